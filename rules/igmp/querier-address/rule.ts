import {
  byLabel,
  clause,
  defineRule,
  formatAddress,
  formatPrefix,
  heldLabel,
  mark,
  noted,
  vlanSubject,
} from '../../../src/doors/rule.js';
import { boxTouch, citedFor, protocolName, querierFault, type QuerierFault } from '../../../src/doors/igmp.js';
import { words, type Facts, type Note } from './words.js';

const SOURCES = [clause('RFC 4541', '2.1.1'), clause('RFC 3376', '6.6.2'), clause('RFC 3810', '5.1.14')];

export default defineRule<Facts, Note>({
  id: 'igmp/querier-address',
  summary: 'A querier has no address, or not one it can query from',
  severity: 'error',
  sources: SOURCES,
  needs: ['queriers'],
  brief: 'querier without its address',
  *check({ plan, model }) {
    for (const vlan of plan.vlans) {
      for (const protocol of ['igmp', 'mld'] as const) {
        for (const querier of vlan[protocol]?.queriers ?? []) {
          const fault = querierFault(querier, vlan, protocol, model.addressing);
          if (fault === undefined) continue;
          const { on, address } = querier;
          const key = address === undefined ? 'on' : 'address';
          const held = byLabel(fault.held.map(formatAddress), (one) => one);
          yield {
            subject: `${protocolName(protocol)} in ${vlanSubject(vlan)}: ${on?.name ?? ''} ${address === undefined ? 'no address' : formatAddress(address)}`,
            parties: [vlan.name, ...(on === undefined ? [] : [on.name])],
            severity: fault.fault === 'none' ? 'note' : 'error',
            facts: { protocol, vlan, on, held, ...formOf(fault) },
            at: noted(mark(querier, on?.name ?? 'a querier', key), 'querier'),
            others:
              fault.fault === 'heldByAnother'
                ? [noted(mark(fault.holder.owner, heldLabel(fault.holder), fault.holder.key), 'holder')]
                : [],
            touch: boxTouch(on, vlan),
            sources: citedFor(protocol, SOURCES),
          };
        }
      }
    }
  },
  words,
});

function formOf(fault: QuerierFault) {
  if (fault.fault === 'none') return { form: fault.fault } as const;
  const address = formatAddress(fault.address);
  if (fault.fault === 'heldByAnother') return { form: fault.fault, address, holder: heldLabel(fault.holder) } as const;
  if (fault.fault === 'outsideSubnet')
    return { form: fault.fault, address, subnet: formatPrefix(fault.subnet) } as const;
  return { form: fault.fault, address } as const;
}
