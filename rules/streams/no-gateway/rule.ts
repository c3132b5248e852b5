import { certainly, createEditList } from '../../../src/doors/cures.js';
import {
  byLabel,
  clause,
  defineRule,
  formatAddress,
  formatPrefix,
  legLabel,
  mark,
  ownerLabel,
  routerAddress,
} from '../../../src/doors/rule.js';
import { withoutGateway } from '../../../src/doors/streams.js';
import { words, type Facts } from './words.js';

export default defineRule<Facts>({
  id: 'streams/no-gateway',
  summary: 'A unicast stream is sent out of its subnet, and its VLAN has no gateway',
  severity: 'error',
  sources: [clause('RFC 1122', '3.3.1.1'), clause('RFC 4861', '5.2')],
  needs: ['unicast', 'subnets', 'gateways'],
  brief: 'no gateway on the way',
  explains: ['no gateway'],
  *check({ plan, model }) {
    for (const { vlan, four, legs: unordered } of withoutGateway(plan, model.network)) {
      const legs = byLabel(unordered, legLabel);
      const subnet = four ? vlan.subnet : vlan.subnet6;
      const router = subnet === undefined ? undefined : routerAddress(vlan, subnet, model.addressing);
      yield {
        subject: `${vlan.name} ${four ? 'IPv4' : 'IPv6'}`,
        parties: [vlan.name, ...legs.map(legLabel)],
        cure: () => {
          const edits = createEditList();
          if (router !== undefined) edits.set(vlan, four ? 'gateway' : 'gateway6', formatAddress(router.address));
          return certainly(edits, 'which box is to route here');
        },
        facts: {
          vlan,
          legs,
          key: four ? 'gateway' : 'gateway6',
          addresses: [...new Set(legs.flatMap(({ unicast }) => (unicast === undefined ? [] : formatAddress(unicast))))],
          subnet: subnet === undefined ? undefined : formatPrefix(subnet),
          router:
            router === undefined
              ? undefined
              : { name: ownerLabel(router.owner), address: formatAddress(router.address) },
        },
        at: mark(vlan, `VLAN ${vlan.name}`, four ? 'subnet' : 'subnet6'),
        others: legs.map((leg) => mark(leg, legLabel(leg), 'unicast')),
        touch: { kind: 'vlan', name: vlan.name },
      };
    }
  },
  words,
});
