/** A link and its ports that cannot run at one rate. All rates in bit/s. */
import { isNonEmpty, type NonEmpty } from '../../collections/non-empty.js';
import type { Link, Port } from '../../plan/types.js';
import { isCircuit, knownEnds } from './trunks.js';

export interface RatedPort {
  readonly port: Port;
  readonly rateBps: number;
}

export interface RateDifference {
  /** Both ends, in the order of their names. */
  readonly ends: readonly [Port, Port];
  /** Those of which the rate is stated. */
  readonly rated: NonEmpty<RatedPort>;
  /** The one to change first. */
  readonly odd: RatedPort;
  readonly slowest: RatedPort;
  /** Whether the ports differ, else they agree with each other or one is not stated. */
  readonly unlike: boolean;
  /** What the link is planned for, where a port is slower. */
  readonly plannedBps: number | undefined;
  /** Whether both ports agree, so that the link's own rate is the one to change. */
  readonly outvoted: boolean;
}

/** Undefined where they fit, or where the plan does not state the rates. */
export function rateDifference(link: Link): RateDifference | undefined {
  const ends = knownEnds(link);
  if (ends === undefined) return undefined;
  const rated = ends.flatMap(({ port }): readonly RatedPort[] =>
    port.rateBps === undefined ? [] : [{ port, rateBps: port.rateBps }],
  );
  const differ = rated.length === 2 && rated[0]?.rateBps !== rated[1]?.rateBps;
  const unlike = differ && !isCircuit(link);
  const slower = rated.some(({ rateBps }) => link.rateBps !== undefined && rateBps < link.rateBps);
  if ((!unlike && !slower) || !isNonEmpty(rated)) return undefined;
  const slowest = rated.reduce((least, one) => (one.rateBps < least.rateBps ? one : least));
  // A port that agrees with the link outvotes the other.
  const outvoting = unlike ? rated.find(({ rateBps }) => rateBps === link.rateBps) : undefined;
  const odd = outvoting === undefined ? slowest : (rated.find((one) => one !== outvoting) ?? slowest);
  return {
    ends: [ends[0].port, ends[1].port],
    rated,
    odd,
    slowest,
    unlike,
    plannedBps: slower ? link.rateBps : undefined,
    outvoted: rated.length === 2 && !differ,
  };
}
