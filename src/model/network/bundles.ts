/** Aggregates of links (IEEE 802.1AX): what is one port at each end. */
import type { Link, Plan } from '../../plan/types.js';
import { linkLabel } from '../vlans/index.js';

/** Members of an aggregate between the same two switches together, every other link by itself. */
export function bundlesOf(plan: Plan): readonly (readonly [Link, ...Link[]])[] {
  const bundles: [Link, ...Link[]][] = [];
  const byName = new Map<string, [Link, ...Link[]][]>();
  for (const link of plan.links) {
    const [a, b] = link.ends.map((end) => end.switch);
    if (a === undefined || b === undefined || a === b) continue;
    if (link.aggregate === undefined) {
      bundles.push([link]);
      continue;
    }
    let named = byName.get(link.aggregate);
    if (named === undefined) byName.set(link.aggregate, (named = []));
    const same = named.find(([first]) => [a, b].every((one) => first.ends.some((end) => end.switch === one)));
    if (same !== undefined) {
      same.push(link);
      continue;
    }
    const bundle: [Link] = [link];
    named.push(bundle);
    bundles.push(bundle);
  }
  // By name, so that nothing depends on the order of the plan.
  for (const bundle of bundles) bundle.sort((x, y) => (linkLabel(x) < linkLabel(y) ? -1 : 1));
  return bundles;
}
