/** What a first-time user has answered so far. */
import type { Prefix } from '../../values/address.js';
import type { CommonKind } from './common-kinds.js';

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
  /** Redundant media networks. */
  readonly networks?: 1 | 2;
  readonly addressBlock?: Prefix;
  readonly groupBlock?: Prefix;
  readonly growthPercent?: number;
  /** Where the request goes. */
  readonly file?: string;
}

export type AllAnswers = Required<Omit<Answers, 'areas'>> & { readonly areas: readonly Required<AnsweredArea>[] };

/** The answers once no question is left. */
export function allAnswers(answers: Answers): AllAnswers | undefined {
  const { rig, venue, areas, networks, addressBlock, groupBlock, growthPercent, file } = answers;
  const counted = areas?.flatMap(({ name, crates }) => (crates === undefined ? [] : [{ name, crates }]));
  if (rig === undefined || venue === undefined || counted === undefined || counted.length < (areas?.length ?? 0))
    return undefined;
  if (networks === undefined || addressBlock === undefined || groupBlock === undefined) return undefined;
  if (growthPercent === undefined || file === undefined) return undefined;
  return { rig, venue, areas: counted, networks, addressBlock, groupBlock, growthPercent, file };
}
