import { formatPrefix, linkLabel, type FindingWords } from '../../../src/doors/rule.js';
import type { HalfRouted } from '../../../src/doors/routing.js';

export type Facts = HalfRouted;

export type Note = 'end';

export function words(half: Facts): FindingWords<Note> {
  if (half.kind === 'address') {
    const { link, silent } = half;
    const end = link.ends[silent].text;
    return {
      what: `the routed link ${linkLabel(link)} has an address at one end and none at ${end}`,
      onAir: 'the router without an address has no neighbour there: unicast and multicast stop at the link',
      fix: `give ${end} the other address of the subnet`,
      label: (name) => name,
    };
  }
  const { vlan, router } = half;
  const subnet = vlan.subnet ?? vlan.subnet6;
  return {
    what: `VLAN ${vlan.name}${subnet === undefined ? '' : ` (${formatPrefix(subnet)})`} has room for two routers, and ${router.name} is the only one named in it`,
    onAir: `${router.name} has no neighbour there, and nothing crosses the link`,
    fix: 'name the router at the other end under `routers`, and give it the other address; or write the link with `routed` and both addresses',
    label: (name) => `${name}: routed by ${router.name} alone`,
  };
}
