/** Pairs of switches that act as one, by the name their switches give them. */
import type { Rig, SwitchPair } from '../types.js';

/** One object for each name of a pair in a rig. */
export function createPairs(): (rig: Rig, name: string) => SwitchPair {
  const known = new Map<Rig, Map<string, SwitchPair>>();
  return (rig, name) => {
    const own = known.get(rig) ?? new Map<string, SwitchPair>();
    known.set(rig, own);
    const pair = own.get(name) ?? { rig, name };
    own.set(name, pair);
    return pair;
  };
}
