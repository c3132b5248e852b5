import {
  byLabel, clause, defineRule, formatAddress, isIPv4, isSourceSpecificFor, legLabel, listNames, mark, touchOf, type Leg,
} from '../../../src/lint/rule.js';

export default defineRule({
  id: 'sources/ssm-without-source',
  summary: 'A stream uses a source-specific group, but the plan gives it no source address',
  severity: 'error',
  sources: [clause('RFC 4607', '1'), clause('RFC 4604', '2')],
  needs: ['groups'],
  *check({ plan }) {
    for (const sender of plan.senders) {
      let bare: Leg[] | undefined;
      for (const leg of sender.legs) {
        if (leg.source === undefined && leg.group !== undefined && isSourceSpecificFor(sender.rig, leg.group)) (bare ??= []).push(leg);
      }
      const [first, ...rest] = byLabel(bare ?? [], legLabel);
      if (first === undefined) continue;
      const legs = [first, ...rest];
      const groups = legs.flatMap((leg) => (leg.group === undefined ? [] : [formatAddress(leg.group)]));
      yield {
        subject: `${sender.label} ${[...new Set(groups)].join(' ')}`,
        parties: [sender.label],
        what: `${sender.label} sends to source-specific ${groups.length === 1 ? 'group' : 'groups'} ${listNames(groups)}, `
          + `but no source address is known: ${[...new Set(legs.map(whyNone))].join('; ')}`,
        at: mark(first, `${legLabel(first)}: has no source`, 'group'),
        others: rest.map((leg) => mark(leg, `${legLabel(leg)}: has no source`, 'group')),
        onAir: 'a receiver must name the source when it joins such a group: without it there is no picture or sound at all, from the first take on',
        fix: `write the address it sends from, as \`address\` of the interface or as \`source\` of the leg, and have receivers join with it`,
        touch: touchOf(sender),
      };
    }
  },
});

function whyNone({ interface: via, group }: Leg): string {
  if (via === undefined) return 'the leg names neither source nor interface';
  if (via.dhcp) return `interface ${via.name} takes whatever address DHCP hands out`;
  return `interface ${via.name} has no ${group !== undefined && isIPv4(group) ? 'IPv4' : 'IPv6'} address`;
}
