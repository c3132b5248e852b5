/** What a first-time user has answered so far. */
import type { Prefix } from '../../values/address.js';
import type { CommonKind } from './common-kinds.js';

/** From which kinds each kind takes streams; kinds that take nothing are not in it. */
export type Taking = ReadonlyMap<CommonKind, readonly CommonKind[]>;

/** So many boxes of a kind. */
export interface Crate {
  readonly kind: CommonKind;
  readonly count: number;
}

export interface AnsweredArea {
  readonly name: string;
  /** Absent until it was asked. */
  readonly crates?: readonly Crate[];
}

/** Each fact is absent until its question was answered. */
export interface Answers {
  readonly rig?: string;
  readonly venue?: string;
  readonly areas?: readonly AnsweredArea[];
  readonly taking?: Taking;
  /** Redundant media networks. */
  readonly networks?: 1 | 2;
  /** Ports for devices of each switch; 0 where switches are not known. */
  readonly switchPorts?: number;
  readonly addressBlock?: Prefix;
  readonly groupBlock?: Prefix;
  readonly growthPercent?: number;
  /** Where the request goes. */
  readonly file?: string;
}

export type AllAnswers = Required<Omit<Answers, 'areas'>> & { readonly areas: readonly Required<AnsweredArea>[] };

/** The answers once no question is left. */
export function allAnswers(answers: Answers): AllAnswers | undefined {
  const { rig, venue, areas, taking, networks, switchPorts, addressBlock, groupBlock, growthPercent, file } = answers;
  const counted = areas?.flatMap(({ name, crates }) => (crates === undefined ? [] : [{ name, crates }]));
  if (rig === undefined || venue === undefined || counted === undefined || counted.length < (areas?.length ?? 0))
    return undefined;
  if (taking === undefined || networks === undefined || switchPorts === undefined) return undefined;
  if (addressBlock === undefined || groupBlock === undefined) return undefined;
  if (growthPercent === undefined || file === undefined) return undefined;
  return { rig, venue, areas: counted, taking, networks, switchPorts, addressBlock, groupBlock, growthPercent, file };
}
