import { createEditList, likely, peopleDecide, type Cure } from '../../../src/doors/cures.js';
import {
  byLabel,
  clause,
  defineRule,
  formatAddress,
  formatPrefix,
  groupBy,
  isIPv4,
  isNonEmpty,
  legLabel,
  mapAll,
  mark,
  noted,
  touchOf,
  type Leg,
  type Plan,
} from '../../../src/doors/rule.js';
import { createUnheld, takenWithoutAddress } from '../../../src/doors/streams.js';
import { words, type Facts } from './words.js';

export default defineRule<Facts, string>({
  id: 'streams/unicast-to-nobody',
  summary: 'A unicast stream is sent to an address in the rig that nothing has',
  severity: 'error',
  sources: [clause('RFC 826', 'Packet Reception'), clause('RFC 4861', '7.2.2')],
  needs: ['unicast', 'subnets', 'addresses'],
  brief: 'sent to nobody',
  explains: ['nobody holds'],
  *check({ plan, model }) {
    const { byAddress } = model.owners;
    const lost = groupBy(plan.legs, ({ unicast }) =>
      unicast === undefined || byAddress.has(unicast) ? undefined : unicast,
    );
    if (lost.size === 0) return;
    const unheld = createUnheld(plan, model.owners);
    const open = takenWithoutAddress(plan);
    for (const [address, unordered] of lost) {
      const legs = byLabel(
        unordered.filter((leg) => !open.has(leg)),
        legLabel,
      );
      if (!isNonEmpty(legs)) continue;
      const { sender } = legs[0];
      const vlan = unheld(sender.rig, address);
      if (vlan === undefined) continue;
      const subnet = isIPv4(address) ? vlan.subnet : vlan.subnet6;
      const text = formatAddress(address);
      const [at, ...others] = mapAll(legs, (leg) => noted(mark(leg, legLabel(leg), 'unicast'), text));
      yield {
        subject: text,
        parties: legs.map(legLabel),
        cure: () => cure(plan, legs, isIPv4(address)),
        facts: { legs, address: text, vlan, subnet: subnet === undefined ? undefined : formatPrefix(subnet) },
        at,
        others,
        touch: touchOf(sender),
      };
    }
  },
  words,
});

/** Each goes to the one interface that takes it. */
function cure({ receiverLegs }: Plan, legs: readonly Leg[], four: boolean): Cure {
  const edits = createEditList();
  for (const leg of legs) {
    const held = receiverLegs.flatMap(({ takes, interface: via }) =>
      takes === leg ? ((four ? via?.address : via?.address6) ?? []) : [],
    );
    const [wanted, ...others] = new Set(held);
    if (wanted === undefined || others.length > 0) return peopleDecide('which box is to take it');
    edits.setWhereWritten(leg, 'unicast', formatAddress(wanted));
  }
  return likely(edits);
}
