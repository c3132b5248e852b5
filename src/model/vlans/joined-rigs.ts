/** Which rigs meet. */
import type { Plan, Rig } from '../../plan/types.js';
import { UnionFind } from '../../collections/union-find.js';

/** Equal for rigs that a join or a link ties together, directly or through others. */
export function joinedRigs({ joins, links }: Pick<Plan, 'joins' | 'links'>): (rig: Rig) => object {
  const tied = new UnionFind<Rig>();
  const tie = (rigs: readonly Rig[]): void => {
    const [first, ...rest] = rigs;
    if (first !== undefined) for (const rig of rest) tied.union(first, rig);
  };
  for (const { vlans, networks } of joins) {
    tie(vlans.map(({ rig }) => rig));
    tie(networks.map(({ rig }) => rig));
  }
  for (const { ends } of links) tie(ends.flatMap((end) => end.switch?.rig ?? []));
  return (rig) => tied.find(rig);
}
