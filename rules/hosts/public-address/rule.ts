import {
  clause,
  defineRule,
  formatPrefix,
  heldFact,
  inPrefix,
  isIPv4,
  rangeOf,
  rigOf,
  subnetFor,
  type Held,
  type Prefix,
} from '../../../src/doors/rule.js';
import {
  heldSetDraft,
  heldSets,
  inRange,
  isGloballyReachableUnicast,
  specialPurpose,
  type WholeSubnet,
} from '../../../src/doors/hosts.js';
import { words, type Facts } from './words.js';

const IPV4 = [clause('RFC 1918', '3'), clause('RFC 1918', '4')];
const IPV6 = [clause('RFC 4193', '3')];

export default defineRule<Facts, 'public'>({
  id: 'hosts/public-address',
  summary: 'An interface has a public address that the conventions do not hold',
  severity: 'warning',
  people: 'whether the block is yours to use',
  sources: [...IPV4, ...IPV6],
  needs: ['addresses'],
  brief: 'public address',
  harm: 'paper',
  *check({ model: { addressing } }) {
    const open = addressing.held.filter(isPublic);
    if (open.length === 0) return;
    // What `hosts/outside-subnet` or `hosts/prefix-differs` reports.
    const odd = new Set([...addressing.fits.values()].flatMap((fit) => fit.odd));
    const faulty = open.filter((held) => {
      const subnet = subnetOf(held);
      return subnet === undefined || inRange(held.address, rangeOf(subnet)) || !odd.has(held);
    });
    for (const set of heldSets(faulty, wholeOf)) {
      const { whole, held } = set;
      yield {
        ...heldSetDraft(set, 'public'),
        facts: {
          held: held.map(heldFact),
          whole: whole === undefined ? undefined : { vlan: whole.vlan, subnet: formatPrefix(whole.subnet) },
        },
        sources: isIPv4(held[0].address) ? IPV4 : IPV6,
      };
    }
  },
  words,
});

function isPublic({ address, owner }: Held): boolean {
  if (!isGloballyReachableUnicast(address) || specialPurpose(address) !== undefined) return false; // hosts/special-purpose
  return !rigOf(owner).conventions.prefixes.some((prefix) => inPrefix(address, prefix));
}

function subnetOf({ vlan, address }: Held): Prefix | undefined {
  return vlan === undefined ? undefined : subnetFor(vlan, address);
}

function wholeOf(held: Held): WholeSubnet | undefined {
  const { vlan, address } = held;
  const subnet = subnetOf(held);
  if (vlan === undefined || subnet === undefined || !inRange(address, rangeOf(subnet))) return undefined;
  return { vlan, subnet, block: subnet };
}
