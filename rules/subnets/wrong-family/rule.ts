import { clause, defineRule, formatAddress, formatPrefix, isIPv4, mark, vlanSubject } from '../../../src/lint/rule.js';

export default defineRule({
  id: 'subnets/wrong-family',
  summary: 'A subnet or gateway is written under the key of the other address family',
  severity: 'note',
  sources: [clause('RFC 791', '3.2'), clause('RFC 4291', '2.2')],
  needs: ['subnets'],
  *check({ plan }) {
    for (const vlan of plan.vlans) {
      for (const [key, right] of KEYS) {
        const value = vlan[key];
        if (value === undefined) continue;
        const address = typeof value === 'object' ? value.network : value;
        if (isIPv4(address) === !key.endsWith('6')) continue;
        const text = typeof value === 'object' ? formatPrefix(value) : formatAddress(value);
        yield {
          subject: `${key} of ${vlanSubject(vlan)}`,
          parties: [vlan.name],
          what: `${text} of VLAN ${vlan.name} is ${isIPv4(address) ? 'IPv4' : 'IPv6'}, but stands under \`${key}\``,
          at: mark(vlan, `VLAN ${vlan.name}: belongs under \`${right}\``, key),
          onAir: 'nothing; every rule judges it by what it is, yet whoever looks for it finds the wrong family',
          fix: `write it under \`${right}\``,
          touch: { kind: 'vlan', name: vlan.name },
        };
      }
    }
  },
});

const KEYS = [
  ['subnet', 'subnet6'],
  ['subnet6', 'subnet'],
  ['gateway', 'gateway6'],
  ['gateway6', 'gateway'],
] as const;
