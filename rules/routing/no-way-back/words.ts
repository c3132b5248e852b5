import {
  agree,
  legLabel,
  linkLabel,
  listNames,
  receiverLegLabel,
  type FindingWords,
  type Leg,
  type Link,
  type ReceiverLeg,
} from '../../../src/doors/rule.js';
import type { Box } from '../../../src/doors/routing.js';

export interface Facts {
  readonly router: Box;
  /** The next router on its shortest way to the sources. */
  readonly neighbour: Box;
  /** The links between the two that route unicast only. */
  readonly links: readonly Link[];
  readonly legs: readonly Leg[];
  readonly takers: readonly ReceiverLeg[];
}

export type Note = 'link';

export function words({ router, neighbour, links, legs, takers }: Facts): FindingWords<Note> {
  const over = links.length === 0 ? '' : ` over ${listNames(links.map(linkLabel), 3)}`;
  return {
    what: `the shortest path of ${router.name} to ${listNames(legs.map(legLabel), 4)} goes to ${neighbour.name}${over}, where multicast is not routed`,
    onAir: `${router.name} sends its joins to nobody: ${listNames(takers.map(receiverLegLabel), 4)} ${agree(takers.length, 'stays', 'stay')} dark or silent, although pings get through`,
    fix: `route multicast there: leave out \`multicast: false\`; or give ${router.name} a \`metric\` there that makes another path shorter`,
    label: (name) => `${name}: unicast only`,
  };
}
