import { createEditList, likely, certainly, peopleDecide, giveAddress } from '../../../src/doors/cures.js';
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
  type Address,
  type Vlan,
} from '../../../src/doors/rule.js';
import {
  boxTouch,
  citedFor,
  protocolName,
  querierFault,
  type QuerierFault,
  type Querier,
} from '../../../src/doors/igmp.js';
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
            cure: () => {
              const edits = createEditList();
              const [first] = fault.held.toSorted((a, b) => (a < b ? -1 : 1));
              if (first !== undefined && keepsOrder(vlan, protocol, querier, first)) {
                edits.set(querier, 'address', formatAddress(first));
                return certainly(edits);
              }
              const given =
                on !== undefined && 'ports' in on
                  ? giveAddress(model, edits, vlan, protocol, on, undefined)
                  : undefined;
              if (given === undefined || !keepsOrder(vlan, protocol, querier, given))
                return peopleDecide('which address it queries from');
              edits.set(querier, 'address', formatAddress(given));
              return likely(edits);
            },
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

/** Whether the first of a VLAN's queriers still has the lowest address, which wins (RFC 3376 §6.6.2). */
function keepsOrder(vlan: Vlan, protocol: 'igmp' | 'mld', changed: Querier, to: Address): boolean {
  const [first, ...others] = vlan[protocol]?.queriers ?? [];
  const addressOf = (one: Querier | undefined): Address | undefined => (one === changed ? to : one?.address);
  const lowest = addressOf(first);
  return lowest === undefined || others.every((one) => (addressOf(one) ?? lowest) >= lowest);
}
