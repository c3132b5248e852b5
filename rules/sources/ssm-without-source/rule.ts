import {
  byLabel,
  clause,
  defineRule,
  formatAddress,
  groupBy,
  isIPv4,
  isSourceSpecificFor,
  legLabel,
  listNames,
  mark,
  nothingOf,
  touchOf,
  type Leg,
} from '../../../src/lint/rule.js';

export default defineRule({
  id: 'sources/ssm-without-source',
  summary: 'A stream uses a source-specific group, but the plan gives it no source address',
  severity: 'error',
  sources: [clause('RFC 4607', '1'), clause('RFC 4604', '2')],
  needs: ['groups'],
  *check({ plan }) {
    for (const [sender, bare] of groupBy(plan.legs.filter(lacksSource), (leg) => leg.sender)) {
      const [first, ...rest] = byLabel(bare, legLabel);
      if (first === undefined) continue;
      const legs = [first, ...rest];
      const groups = legs.flatMap((leg) => (leg.group === undefined ? [] : [formatAddress(leg.group)]));
      yield {
        subject: `${sender.label} ${[...new Set(groups)].join(' ')}`,
        parties: [sender.label],
        what:
          `${sender.label} sends to source-specific ${groups.length === 1 ? 'group' : 'groups'} ${listNames(groups)}, ` +
          `but no source address is known: ${[...new Set(legs.map(whyNone))].join('; ')}`,
        at: mark(first, `${legLabel(first)}: has no source`, 'group'),
        others: rest.map((leg) => mark(leg, `${legLabel(leg)}: has no source`, 'group')),
        onAir: `a receiver must name the source when it joins such a group: without it there is ${nothingOf([sender])} at all, from the first take on`,
        fix: `write the address it sends from, as \`address\` of the interface or as \`source\` of the leg, and have receivers join with it`,
        touch: touchOf(sender),
      };
    }
  },
});

function lacksSource({ source, group, sender }: Leg): boolean {
  return source === undefined && group !== undefined && isSourceSpecificFor(sender.rig, group);
}

function whyNone({ interface: via, group }: Leg): string {
  if (via === undefined) return 'the leg names neither source nor interface';
  if (via.dhcp) return `interface ${via.name} takes whatever address DHCP hands out`;
  return `interface ${via.name} has no ${group !== undefined && isIPv4(group) ? 'IPv4' : 'IPv6'} address`;
}
