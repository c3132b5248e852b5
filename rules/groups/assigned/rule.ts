import {
  assignedGroup4,
  assignedGroup6,
  byLabel,
  clause,
  defineRule,
  formatAddress,
  groupWords,
  inRig,
  legLabel,
  legSets,
  listNames,
  mark,
  moveWords,
  otherMarks,
  touchOf,
  type Address,
} from '../../../src/lint/rule.js';

const IPV4 = [clause('RFC 5771', '5'), clause('IANA IPv4 Multicast Address Space Registry', "the group's row")];
const IPV6 = [clause('IANA IPv6 Multicast Address Space Registry', "the group's row")];

export default defineRule({
  id: 'groups/assigned',
  summary: 'A stream uses a group that belongs to a protocol',
  severity: 'error',
  sources: [...IPV4, ...IPV6],
  needs: ['groups'],
  *check({ model }) {
    const sets = legSets(
      model.misplaced.get('assigned') ?? [],
      ({ group, sender }) => `${formatAddress(group ?? 0)}${inRig(sender.rig)}`,
    );
    for (const set of byLabel(sets, ({ subject }) => subject)) {
      const { first, legs, names, subject } = set;
      const { group } = first;
      if (group === undefined) continue;
      const owner = ownerOf(group);
      yield {
        subject,
        parties: names,
        what: `${groupWords(legs)} of ${listNames(names)} ${owner === undefined ? 'lies in 224.0.1.0/24, the Internetwork Control Block, which is for control protocols' : `belongs to ${owner.protocol}${owner.name === owner.protocol ? '' : ` (registered as "${owner.name}")`}`}`,
        at: mark(first, `${legLabel(first)}: ${formatAddress(group)}`, 'group'),
        others: otherMarks(set),
        onAir: onAir(owner?.protocol),
        fix: moveWords(model, legs),
        touch: touchOf(first.sender),
        sources: typeof group === 'number' ? IPV4 : IPV6,
      };
    }
  },
});

function ownerOf(group: Address): { readonly name: string; readonly protocol: string } | undefined {
  return typeof group === 'number' ? assignedGroup4(group) : assignedGroup6(group);
}

function onAir(protocol: string | undefined): string {
  if (protocol === undefined)
    return 'gear that treats the block as control traffic handles or drops the stream as such; a protocol that is given this group later runs into it';
  if (protocol === 'PTP' || protocol === 'NTP') {
    return `every device that follows ${protocol} gets the stream as well: clocks lose messages and drift, and slow ports fill up`;
  }
  return "every device that speaks the protocol gets the stream and tries to read it, and receivers of the stream get the protocol's messages among its packets";
}
