import {
  clause,
  defineRule,
  formatPrefix,
  heldFact,
  inPrefix,
  isIPv4,
  subnetFor,
  type Held,
} from '../../../src/doors/rule.js';
import { heldSetDraft, heldSets, hostAddressFault, type WholeSubnet } from '../../../src/doors/hosts.js';
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
