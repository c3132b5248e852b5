/** What routed links carry once one of them is lost and the routers have found other ways. */
import type { Link, Plan } from '../../plan/types.js';
import { linkEnds } from '../vlans/index.js';
import type { Network } from './flows.js';
import { linkUses, type LinkUse } from './link-use.js';
import { buildLoad, type RateOf } from './load.js';
import { remainsOf } from './remains.js';

/** Every link as it is after the loss of one routed link; the fullest lost first, no more than `most` of them. */
export function* routedReroutes(
  plan: Plan,
  network: Network,
  uses: readonly LinkUse[],
  rateOf: RateOf,
  most: number,
): Iterable<{ readonly lost: Link; readonly then: readonly LinkUse[] }> {
  // A link without streams is nobody's way: its loss moves none.
  const carrying = uses.filter(
    ({ links, loadBps }) => links.length === 1 && links[0].transit !== undefined && loadBps > 0,
  );
  carrying.sort((a, b) => b.loadBps - a.loadBps || (linkEnds(a.links[0]) < linkEnds(b.links[0]) ? -1 : 1));
  for (const {
    links: [lost],
  } of carrying.slice(0, most)) {
    const { routing } = remainsOf({ boxes: new Set(), links: new Set([lost]) }, network);
    const anew = { ...network, ...network.flowsBy(routing()) };
    yield { lost, then: linkUses(plan, network, buildLoad(plan, anew, rateOf)) };
  }
}
