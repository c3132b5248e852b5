import {
  boxTouch,
  byLabel,
  citedFor,
  clause,
  defineRule,
  formatSeconds,
  groupBy,
  listNames,
  loneQuerier,
  mark,
  otherQuerierPresentInterval,
  protocolName,
  segmentSubject,
  streamsWords,
  whileUnqueried,
  type GroupSegment,
  type Sender,
} from '../../../src/lint/rule.js';

const SOURCES = [clause('RFC 3376', '8.4'), clause('RFC 3376', '8.5'), clause('RFC 3810', '9')];

export default defineRule({
  id: 'igmp/no-backup-querier',
  summary: 'A redundancy leg has one querier and none to take over',
  severity: 'warning',
  sources: SOURCES,
  needs: ['groups', 'queriers', 'switchPorts'],
  *check({ model }) {
    const alsoElsewhere = servingOtherLegs(model.groupSegments);
    for (const segment of model.groupSegments) {
      const { domain } = segment;
      const lone = loneQuerier(segment);
      if (lone === undefined) continue;
      const { querier: only, survivors: left } = lone;
      if (only.querier === undefined || alsoElsewhere.has(segment)) continue;
      const name = protocolName(segment.protocol);
      const { fate, assumed } = whileUnqueried(segment);
      const management = segment.settings.find(({ vlan }) => vlan === only.vlan)?.management;
      const names = byLabel(
        assumed.map((one) => one.name),
        (one) => one,
      );
      yield {
        subject: segmentSubject(segment),
        parties: [...domain.vlans.map((vlan) => vlan.name), ...(only.on === undefined ? [] : [only.on.name])],
        what: `${only.on?.name ?? 'one box'} is the only ${name} querier of ${domain.title}, though ${streamsWords(left)} there ${left === 1 ? 'does' : 'do'} not pass through it`,
        at: mark(only.querier, `${only.on?.name ?? 'the querier'}: the only one`, 'on'),
        onAir:
          `${
            fate === 'flood'
              ? 'when it fails, the switches flood every stream to every port'
              : `when it fails, ${left === 1 ? 'that stream plays' : 'those streams play'} on at first and ${left === 1 ? 'stops' : 'stop'} within ${formatSeconds(segment.membershipS)}`
          }; a backup would query after ${formatSeconds(otherQuerierPresentInterval(management))}, just before members are forgotten` +
          (names.length === 0 || fate === 'flood'
            ? ''
            : ` (${listNames(names, 3)} ${names.length === 1 ? 'is' : 'are'} taken to forget groups then; \`noQuerier\` is not stated)`),
        fix: `let a second switch query in ${domain.title}, from a higher address, and write it after ${only.on?.name ?? 'the first'} under \`querier\``,
        touch: boxTouch(only.on, only.vlan),
        sources: citedFor(segment.protocol, SOURCES),
      };
    }
  },
});

/** Segments whose only querier is the only one of the streams' other legs too: `redundancy/common-querier`. */
function servingOtherLegs(segments: readonly GroupSegment[]): ReadonlySet<GroupSegment> {
  const found = new Set<GroupSegment>();
  const alone = segments.filter(({ candidates, snooping }) => candidates.length === 1 && snooping === true);
  for (const [, own] of groupBy(alone, ({ candidates }): object | undefined => candidates[0]?.on)) {
    if (own.length < 2) continue;
    const first = new Map<Sender, GroupSegment>();
    for (const segment of own) {
      for (const { sender } of segment.sent) {
        const other = first.get(sender) ?? segment;
        first.set(sender, other);
        if (other !== segment) found.add(other).add(segment);
      }
    }
  }
  return found;
}
