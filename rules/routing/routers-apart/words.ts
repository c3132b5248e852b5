import {
  agree,
  legLabel,
  linkLabel,
  listNames,
  receiverLegLabel,
  type FindingWords,
  type Leg,
  type Link,
  type NonEmpty,
  type ReceiverLeg,
  type Vlan,
} from '../../../src/doors/rule.js';
import type { Box } from '../../../src/doors/routing.js';

export interface Facts {
  /** Two groups of routers, the smaller first, each joined within itself. */
  readonly few: NonEmpty<Box>;
  readonly many: NonEmpty<Box>;
  /** Links between the two that route no multicast. */
  readonly between: readonly Link[];
  /** VLANs in which both are to stand. */
  readonly cut: readonly Vlan[];
  readonly legs: readonly Leg[];
  readonly takers: readonly ReceiverLeg[];
}

export type Note = 'router';

export function words({ few, many, between, cut, legs, takers }: Facts): FindingWords<Note> {
  const near = listNames(
    few.map(({ name }) => name),
    3,
  );
  const far = listNames(
    many.map(({ name }) => name),
    3,
  );
  const links = listNames(between.map(linkLabel), 3);
  const vlans = listNames(
    cut.map(({ name }) => name),
    3,
  );
  const lies =
    cut.length > 0
      ? `both are to stand in VLAN ${vlans}, and no link carries it from one to the other`
      : between.length === 0
        ? 'no link is between them'
        : `${links} between them ${agree(between.length, 'routes', 'route')} no multicast`;
  return {
    what: `the multicast routers ${near} and ${far} do not meet: ${lies}`,
    onAir: `joins of ${listNames(takers.map(receiverLegLabel), 4)} find no path to ${listNames(legs.map(legLabel), 4)}: ${agree(takers.length, 'it stays', 'they stay')} dark or silent, and no router reports it`,
    fix: fixWords(),
    label: (name) => name,
  };

  function fixWords(): string {
    if (cut.length > 0) return `carry VLAN ${vlans} on every link between ${near} and ${far}`;
    const ends = '`routed: [{address: …}, {address: …}]`';
    return between.length === 0
      ? `link ${few[0].name} to a router of the others, ${many[0].name} for one, with an address at each end: ${ends}`
      : `give ${links} an address at each end: ${ends}, without \`multicast: false\``;
  }
}
