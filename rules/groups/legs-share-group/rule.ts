import {
  byLabel,
  clause,
  defineRule,
  formatAddress,
  inRig,
  legLabel,
  mark,
  noted,
  touchOf,
} from '../../../src/doors/rule.js';
import { onOnePath, otherInterface, secondLegGroup, sharedByLegs, sharesSource } from '../../../src/doors/groups.js';
import { words, type Facts } from './words.js';

export default defineRule<Facts, 'move'>({
  id: 'groups/legs-share-group',
  summary: 'Both legs of a stream send to one group where they meet',
  severity: 'error',
  sources: [clause('RFC 7198', '3.1'), clause('RFC 7198', '5'), clause('RFC 4541', '2.1.2')],
  needs: ['groups', 'pairs'],
  brief: 'both legs on one group',
  *check({ model }) {
    const shared = model.groups.shared.flatMap(sharedByLegs);
    for (const { domain, group, legs } of byLabel(
      shared,
      (use) => `${use.legs[0].sender.label} ${formatAddress(use.group)}`,
    )) {
      const [first, second, ...rest] = byLabel(legs, legLabel);
      if (second === undefined) continue;
      const { sender } = first;
      const onePath = sharesSource(legs);
      const free = secondLegGroup(first, second, model.heldTo, model.proposals);
      yield {
        subject: `${sender.label} ${formatAddress(group)} in ${domain.key}${inRig(sender.rig)}`,
        parties: legs.map(legLabel),
        severity: onePath ? 'error' : 'warning',
        facts: {
          sender,
          group: formatAddress(group),
          where: domain.title,
          onePath,
          sourcesKnown: legs.every(({ source }) => source !== undefined),
          leg: second.index + 1,
          sendFrom: onOnePath(first, second) ? (otherInterface(first, second) ?? 'other-network') : undefined,
          free: free === undefined ? undefined : formatAddress(free),
        },
        at: noted(mark(second, legLabel(second), 'group'), 'move'),
        others: [first, ...rest].map((leg) => mark(leg, legLabel(leg), 'group')),
        touch: touchOf(sender),
      };
    }
  },
  words,
});
