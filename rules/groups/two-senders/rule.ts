import {
  byLabel,
  clause,
  defineRule,
  formatAddress,
  legLabel,
  listNames,
  mark,
  sendersClash,
  touchOf,
  type GroupUse,
  type Leg,
  type Sender,
} from '../../../src/lint/rule.js';

export default defineRule({
  id: 'groups/two-senders',
  summary: 'Two senders use one group where they can be heard together',
  severity: 'error',
  sources: [clause('RFC 1112', '4'), clause('RFC 4541', '2.1.2'), clause('AES67-2018', '7.6')],
  needs: ['groups'],
  *check({ model }) {
    const clashes = model.groups.shared.filter(sendersClash);
    for (const use of byLabel(clashes, ({ group, domain }) => `${formatAddress(group)} ${domain.title}`)) {
      const legs = byLabel(use.legs, legLabel);
      const [first] = legs;
      const second = legs.find((leg) => leg.sender !== first?.sender);
      if (first === undefined || second === undefined) continue;
      const group = formatAddress(use.group);
      const onePort = shareAPort(use.legs);
      const names = legs.map(legLabel);
      const proposal = model.proposals.groupFor(second);
      yield {
        subject: `${group} in ${use.domain.key}`,
        parties: names,
        severity: onePort ? 'error' : 'warning',
        what: `group ${group} in ${use.domain.title} has ${sendersOf(use).size} senders: ${listNames(names)}${onePort ? '' : ', on different UDP ports'}`,
        at: mark(second, `${legLabel(second)}: give this one another group`, 'group'),
        others: legs.filter((leg) => leg !== second).map((leg) => mark(leg, legLabel(leg), 'group')),
        onAir: onePort
          ? 'every receiver of any of them gets all of them: pictures break up or freeze, sound is garbled, as soon as the second one starts'
          : 'the network delivers all of them to every receiver of any: each port carries the sum of their rates, and a full port drops packets',
        fix: `leave ${group} to one sender and give each of the others a group nobody else uses${proposal === undefined ? '' : `; ${formatAddress(proposal)} is free`}`,
        touch: touchOf(second.sender),
      };
    }
  },
});

function sendersOf(use: GroupUse): ReadonlySet<Sender> {
  return new Set(use.legs.map((leg) => leg.sender));
}

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
