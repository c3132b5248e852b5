import { certainly, createEditList, peopleDecide } from '../../../src/doors/cures.js';
import {
  clause,
  defineRule,
  formatAddress,
  formatPrefix,
  isIPv4,
  mark,
  noted,
  vlanSubject,
  type Address,
  type Prefix,
} from '../../../src/doors/rule.js';
import { words, type Facts } from './words.js';

export default defineRule<Facts, string>({
  id: 'subnets/wrong-family',
  summary: 'A subnet or gateway is written under the key of the other address family',
  severity: 'note',
  sources: [clause('RFC 791', '3.2'), clause('RFC 4291', '2.2')],
  needs: ['subnets'],
  brief: 'wrong address family',
  harm: 'paper',
  *check({ plan }) {
    for (const vlan of plan.vlans) {
      for (const [key, right] of KEYS) {
        const value = vlan[key];
        if (value === undefined) continue;
        const address = addressIn(value);
        if (isIPv4(address) === !key.endsWith('6')) continue;
        yield {
          subject: `${key} of ${vlanSubject(vlan)}`,
          parties: [vlan.name],
          cure: () => {
            const other = vlan[right];
            const edits = createEditList();
            edits.set(vlan, right, written(value));
            // Where the other one is of the wrong family too, the two change places.
            if (other === undefined) edits.remove(vlan, key);
            else if (isIPv4(addressIn(other)) !== right.endsWith('6'))
              return peopleDecide('which of the two entries is meant');
            else edits.set(vlan, key, written(other));
            return certainly(edits);
          },
          facts: {
            vlan,
            value: typeof value === 'object' ? formatPrefix(value) : formatAddress(value),
            family: isIPv4(address) ? 'IPv4' : 'IPv6',
            key,
            rightKey: right,
          },
          at: noted(mark(vlan, `VLAN ${vlan.name}`, key), right),
          touch: { kind: 'vlan', name: vlan.name },
        };
      }
    }
  },
  words,
});

const KEYS = [
  ['subnet', 'subnet6'],
  ['subnet6', 'subnet'],
  ['gateway', 'gateway6'],
  ['gateway6', 'gateway'],
] as const;

function addressIn(value: Address | Prefix): Address {
  return typeof value === 'object' ? value.network : value;
}

function written(value: Address | Prefix): string {
  return typeof value === 'object' ? formatPrefix(value) : formatAddress(value);
}
