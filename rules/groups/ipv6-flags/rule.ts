import {
  clause,
  defineRule,
  formatAddress,
  formFaults6,
  groupWords,
  inRig,
  legLabel,
  legSets,
  listNames,
  mark,
  otherMarks,
  touchOf,
  whereTo,
} from '../../../src/lint/rule.js';

/** Faults on which routers drop the group, rather than merely being allowed to. */
const DROPPED: ReadonlySet<string> = new Set([
  'rendezvous-without-prefix',
  'rendezvous-interface',
  'rendezvous-address',
]);

export default defineRule({
  id: 'groups/ipv6-flags',
  summary: 'The flags of an IPv6 group, or the fields they bring, contradict each other',
  severity: 'warning',
  sources: [clause('RFC 4291', '2.7'), clause('RFC 3306', '4'), clause('RFC 3956', '4'), clause('RFC 7371', '4.1')],
  needs: ['groups'],
  *check({ model }) {
    const sets = legSets(
      model.misplaced.get('form-fault') ?? [],
      ({ group, sender }) => `${formatAddress(group ?? 0)}${inRig(sender.rig)}`,
    );
    for (const set of sets) {
      const { first, legs, names, subject } = set;
      if (typeof first.group !== 'bigint') continue;
      const faults = formFaults6(first.group);
      const dropped = faults.some(({ kind }) => DROPPED.has(kind));
      yield {
        subject,
        parties: names,
        severity: dropped ? 'error' : 'warning',
        what: `${groupWords(legs)} of ${listNames(names)} is malformed: ${listNames(faults.map(({ title, citation }) => `${title} (${citation})`))}`,
        at: mark(first, `${legLabel(first)}: ${formatAddress(first.group)}`, 'group'),
        others: otherMarks(set),
        onAir: dropped
          ? 'routers refuse it: receivers in other VLANs stay black'
          : 'it works on some gear; devices and routers that check the address refuse it, and there the stream never arrives',
        fix: `move it to a free group in ${whereTo(model, legs)}`,
        touch: touchOf(first.sender),
      };
    }
  },
});
