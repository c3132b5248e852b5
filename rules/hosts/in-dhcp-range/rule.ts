import { createEditList, likely, peopleDecide, readdress } from '../../../src/doors/cures.js';
import {
  byLabel,
  clause,
  defineRule,
  formatAddress,
  formatRange,
  heldLabel,
  heldMark,
  isNonEmpty,
  mark,
  noted,
  ofRig,
  otherEntries,
  sharedVlans,
  touchOfOwner,
  vlanSubject,
  type Mark,
  type Vlan,
  freeStretch,
} from '../../../src/doors/rule.js';
import { fixedAbroad, fixedInRange, largerPart, type FixedAddress } from '../../../src/doors/hosts.js';
import { words, type Facts, type Note } from './words.js';

export default defineRule<Facts, Note>({
  id: 'hosts/in-dhcp-range',
  summary: 'A fixed address lies in the range DHCP hands out',
  severity: 'error',
  sources: [clause('RFC 2131', '2.2'), clause('RFC 2131', '3.1'), clause('RFC 5227', '1')],
  needs: ['dhcp'],
  brief: 'fixed address in the DHCP range',
  harm: 'later',
  *check({ plan, model }) {
    const offered = new Set<Vlan>();
    const othersOf = otherEntries(sharedVlans({ vlans: plan.vlans, domains: model.domains }));
    for (const vlan of plan.vlans) {
      const { dhcp } = vlan;
      if (dhcp === undefined) continue;
      const others = othersOf(vlan);
      const own = fixedInRange(vlan, dhcp, model.addressing);
      const theirs = fixedAbroad(others, dhcp, own, model.addressing);
      const abroad = theirs.length > 0;
      const label = (one: FixedAddress): string => `${holderOf(one)}${one.vlan === vlan ? '' : ofRig(one.vlan.rig)}`;
      const fixed = byLabel([...own, ...theirs], label);
      if (!isNonEmpty(fixed)) continue;
      const [first] = fixed;
      const alone = fixed.length === 1;
      const box = alone && first.kind === 'held' ? first.held : undefined;
      const free = box === undefined ? undefined : model.proposals.address(box.vlan, box.address, box.owner);
      const part = largerPart(
        dhcp,
        fixed.map(({ address }) => address),
      );
      // Two entries of one VLAN must not be offered the same addresses.
      const entries = [vlan, ...others];
      const elsewhere =
        part === undefined && abroad && !entries.some((one) => offered.has(one))
          ? freeStretch(vlan, entries, model.addressing)
          : undefined;
      if (elsewhere !== undefined) offered.add(vlan);
      const apart = part ?? elsewhere;
      const range = noted(mark(vlan, `VLAN ${vlan.name}`, 'dhcp'), { says: 'range' } as const);
      yield {
        subject: vlanSubject(vlan),
        parties: [vlan.name, ...fixed.map(label)],
        cure: () => {
          const edits = createEditList();
          if (apart !== undefined) {
            edits.set(vlan, 'dhcp', formatRange(apart));
            return likely(edits);
          }
          if (box === undefined) return peopleDecide('which addresses the server is to hand out');
          const offered = free === undefined ? undefined : formatAddress(free);
          return readdress(model, [{ owner: box.owner, address: box.address, offered }], 'likely');
        },
        facts: {
          vlan: `${vlan.name}${abroad ? ofRig(vlan.rig) : ''}`,
          range: formatRange(dhcp),
          fixed: fixed.map((one) => ({ address: formatAddress(one.address), holder: label(one) })),
          abroad,
          apart: apart === undefined ? undefined : formatRange(apart),
          free: free === undefined ? undefined : formatAddress(free),
        },
        at: alone ? markOf(first) : range,
        others: alone ? [range] : fixed.map(markOf),
        touch: box === undefined ? { kind: 'vlan', name: vlan.name } : touchOfOwner(box.owner),
      };
    }
  },
  words,
});

function holderOf(one: FixedAddress): string {
  switch (one.kind) {
    case 'held':
      return heldLabel(one.held);
    case 'gateway':
      return `gateway of ${one.vlan.name}`;
    case 'querier':
      return one.querier.on === undefined ? `querier of ${one.vlan.name}` : `querier ${one.querier.on.name}`;
  }
}

function markOf(one: FixedAddress): Mark<Note> {
  switch (one.kind) {
    case 'held':
      return heldMark(one.held, { says: 'address', address: formatAddress(one.address) });
    case 'gateway':
      return mark(one.vlan, `gateway of VLAN ${one.vlan.name}`, one.key);
    case 'querier':
      return mark(one.querier, `querier of VLAN ${one.vlan.name}`, 'address');
  }
}
