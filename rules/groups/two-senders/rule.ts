import { regroup } from '../../../src/doors/cures.js';
import {
  byLabel,
  clause,
  defineRule,
  formatAddress,
  legLabel,
  mark,
  noted,
  touchOf,
  type Leg,
  type Sender,
  imageOf,
} from '../../../src/doors/rule.js';
import { sendersApart, sendersClash } from '../../../src/doors/groups.js';
import { words, type Facts } from './words.js';

export default defineRule<Facts, 'move'>({
  id: 'groups/two-senders',
  summary: 'Two senders use one group where they can be heard together',
  severity: 'error',
  sources: [clause('RFC 1112', '4'), clause('RFC 4541', '2.1.2'), clause('AES67-2018', '7.6')],
  needs: ['groups'],
  brief: 'two senders on one group',
  explains: ['two senders'],
  *check({ model }) {
    const clashes = model.groups.sharedAsMeant.filter(sendersClash);
    for (const use of byLabel(clashes, ({ group, domain }) => `${formatAddress(group)} ${domain.title}`)) {
      const legs = keepersFirst(byLabel(use.legs, legLabel));
      const second = legs.find((leg) => leg.sender !== legs[0]?.sender);
      if (second === undefined) continue;
      const group = formatAddress(use.group);
      const onePort = shareAPort(use.legs);
      const free = model.proposals.groupFor(second);
      yield {
        subject: `${group} in ${use.domain.key}`,
        parties: legs.map(legLabel),
        severity: onePort ? 'error' : 'warning',
        cure: () =>
          regroup(
            model,
            legs.filter(({ sender }) => sender !== legs[0]?.sender),
            { certainty: 'likely', offered: free === undefined ? [] : [{ leg: second, group: formatAddress(free) }] },
          ),
        facts: {
          group,
          where: use.domain.title,
          legs,
          senders: new Set(legs.map(({ sender }) => sender)).size,
          onePort,
          apart: sendersApart(use),
          free: free === undefined ? undefined : formatAddress(free),
        },
        at: noted(mark(second, legLabel(second), 'group'), 'move'),
        others: legs.filter((leg) => leg !== second).map((leg) => mark(leg, legLabel(leg), 'group')),
        touch: touchOf(second.sender),
      };
    }
  },
  words,
});

/** Whether two streams have one UDP port, or may have: a port that is not stated can be any. */
function shareAPort(legs: readonly Leg[]): boolean {
  const owners = new Map<number, Sender>();
  for (const { port, sender } of legs) {
    if (port === undefined) return true;
    const owner = owners.get(port);
    if (owner !== undefined && owner !== sender) return true;
    owners.set(port, sender);
  }
  return false;
}

/** Who has the group by the conventions' map first: a leg that does not fit its other one has slipped. */
function keepersFirst(legs: readonly Leg[]): readonly Leg[] {
  const slipped = ({ sender }: Leg): boolean => {
    const [first, second] = sender.legs;
    if (first?.group === undefined || second?.group === undefined) return false;
    const image = imageOf(first.group, sender.rig.conventions.groupMap);
    return image !== undefined && image !== second.group;
  };
  return legs.toSorted((a, b) => Number(slipped(a)) - Number(slipped(b)));
}
