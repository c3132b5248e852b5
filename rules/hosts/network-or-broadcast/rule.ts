import { readdress } from '../../../src/doors/cures.js';
import {
  byLabel,
  clause,
  defineRule,
  formatAddress,
  formatPrefix,
  heldFact,
  heldLabel,
  heldMark,
  isIPv4,
  touchOfOwner,
  type Held,
} from '../../../src/doors/rule.js';
import { heldSubject, hostAddressFault, subnetEdge, type SubnetEdge } from '../../../src/doors/hosts.js';
import { words, type Facts } from './words.js';

const IPV4 = [clause('RFC 1122', '3.2.1.3'), clause('RFC 3021', '2.1')];
const IPV6 = [clause('RFC 4291', '2.6.1'), clause('RFC 6164', '6')];

export default defineRule<Facts, 'edge'>({
  id: 'hosts/network-or-broadcast',
  summary: 'A host has the network or broadcast address of its subnet',
  severity: 'error',
  sources: [...IPV4, ...IPV6],
  needs: ['addresses'],
  brief: 'network or broadcast address',
  explains: ['unusable address'],
  harm: 'unicast',
  *check({ model }) {
    const faults = model.addressing.held.flatMap((held): readonly Fault[] => {
      const edge = subnetEdge(held);
      if (edge === undefined || model.addressing.fits.get(edge.subnet)?.outvotedBy !== undefined) return NONE;
      if (hostAddressFault(held.address)?.severity === 'error') return NONE; // hosts/special-purpose
      return [{ held, ...edge }];
    });
    for (const { held, subnet, kind } of byLabel(faults, (fault) => heldSubject(fault.held))) {
      const free = model.proposals.address(held.vlan, held.address, held.owner);
      yield {
        subject: heldSubject(held),
        parties: [heldLabel(held)],
        severity: kind === 'anycast' ? 'warning' : 'error',
        cure: () =>
          readdress(
            model,
            [
              {
                owner: held.owner,
                address: held.address,
                offered: free === undefined ? undefined : formatAddress(free),
              },
            ],
            'certain',
          ),
        facts: {
          ...heldFact(held),
          kind,
          subnet: formatPrefix(subnet),
          free: free === undefined ? undefined : formatAddress(free),
        },
        at: heldMark(held, 'edge'),
        touch: touchOfOwner(held.owner),
        sources: isIPv4(held.address) ? IPV4 : IPV6,
      };
    }
  },
  words,
});

interface Fault extends SubnetEdge {
  readonly held: Held;
}

const NONE: readonly Fault[] = [];
