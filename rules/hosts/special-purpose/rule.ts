import { peopleDecide, type Cure, moveBlocks, readdress } from '../../../src/doors/cures.js';
import {
  clause,
  defineRule,
  formatPrefix,
  heldFact,
  inPrefix,
  isIPv4,
  subnetFor,
  type Held,
  formatAddress,
  subnetKey,
  type Model,
  createFreeBlocks,
} from '../../../src/doors/rule.js';
import {
  heldSetDraft,
  heldSets,
  hostAddressFault,
  type WholeSubnet,
  comparePrefixes,
} from '../../../src/doors/hosts.js';
import { words, type Facts } from './words.js';

export default defineRule<Facts, 'block'>({
  id: 'hosts/special-purpose',
  summary: 'An interface has an address that is set aside for something else',
  severity: 'error',
  sources: [
    clause('RFC 6890', '2.2.1'),
    clause('RFC 1122', '3.2.1.3'),
    clause('RFC 1112', '4'),
    clause('RFC 3927', '1.6'),
    clause('RFC 5737', '4'),
    clause('RFC 6598', '4'),
    clause('RFC 2544', 'C.2.2'),
  ],
  needs: ['addresses'],
  brief: 'address set aside',
  explains: ['unusable address'],
  harm: 'unicast',
  *check({ model }) {
    const faulty = model.addressing.held.filter(({ address }) => hostAddressFault(address) !== undefined);
    for (const set of heldSets(faulty, wholeOf)) {
      const { held, whole } = set;
      const [{ address }] = held;
      const fault = hostAddressFault(address);
      if (fault === undefined) continue;
      const { severity, name, citation, block } = fault;
      yield {
        ...heldSetDraft(set, 'block'),
        severity,
        cure: () => cure(model, held, whole),
        facts: {
          held: held.map(heldFact),
          family: isIPv4(address) ? 'IPv4' : 'IPv6',
          block: formatPrefix(block),
          name,
          citation,
          usable: USABLE[severity],
          whole:
            whole === undefined
              ? undefined
              : {
                  vlan: whole.vlan,
                  subnet: formatPrefix(whole.subnet),
                  partOfBlock: whole.subnet.length > block.length,
                },
        },
      };
    }
  },
  words,
});

const USABLE = { error: 'never', warning: 'at-risk', note: 'alone' } as const;

/** The VLAN's whole subnet lies in the block. */
function wholeOf({ vlan, address }: Held): WholeSubnet | undefined {
  const block = hostAddressFault(address)?.block;
  const subnet = vlan === undefined ? undefined : subnetFor(vlan, address);
  if (vlan === undefined || subnet === undefined || block === undefined) return undefined;
  return inPrefix(subnet.network, block) && subnet.length >= block.length ? { vlan, subnet, block } : undefined;
}

/** The whole VLAN moves to a free private block of its size; single boxes to free addresses of their VLAN's subnet. */
function cure(model: Model, held: readonly Held[], whole: WholeSubnet | undefined): Cure {
  if (whole === undefined) {
    const lost = held.find(({ vlan, address }) => {
      const subnet = vlan === undefined ? undefined : subnetFor(vlan, address);
      return subnet === undefined || hostAddressFault(subnet.network) !== undefined;
    });
    if (lost !== undefined) return peopleDecide('which addresses these boxes are to have');
    const moved = held.map(({ owner, address, vlan }) => {
      const free = model.proposals.address(vlan, address, owner);
      return { owner, address, offered: free === undefined ? undefined : formatAddress(free) };
    });
    return readdress(model, moved, 'certain');
  }
  const { vlan, subnet } = whole;
  const like = PRIVATE[isIPv4(subnet.network) ? 'four' : 'six'];
  const used = model.plan.vlans.flatMap((one) => [one.subnet, one.subnet6].flatMap((prefix) => prefix ?? []));
  const next = createFreeBlocks(
    used.filter(({ network }) => isIPv4(network) === isIPv4(subnet.network)).sort(comparePrefixes),
  );
  const to = next({ address: like, network: like, length: subnet.length });
  if (to === undefined) return peopleDecide('no private block of this size is free');
  return moveBlocks(model, [{ vlan, subnet, key: subnetKey(vlan, subnet), to }], 'likely');
}

/** RFC 1918 §3, RFC 4193 §3.1. */
const PRIVATE = { four: 0x0a000000, six: 0xfd000000000000000000000000000000n } as const;
