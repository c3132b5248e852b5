import { groupsFor, regroupTo } from '../../../src/doors/cures.js';
import {
  byLabel,
  clause,
  defineRule,
  formatAddress,
  formatMac,
  isIPv4,
  legLabel,
  mark,
  noted,
  touchOf,
  type Leg,
  type NonEmpty,
} from '../../../src/doors/rule.js';
import { keyings, legSets, mayAlias, otherMarks, sharedEthernet } from '../../../src/doors/groups.js';
import { words, type Facts, type Note } from './words.js';

const IPV4 = [clause('RFC 1112', '6.4'), clause('RFC 4541', '4')];
const IPV6 = [clause('RFC 2464', '7'), clause('RFC 4541', '4')];

export default defineRule<Facts, Note>({
  id: 'groups/ethernet-alias',
  summary: 'Different groups share one multicast MAC where they meet',
  severity: 'warning',
  sources: [...IPV4, clause('RFC 2464', '7')],
  needs: ['groups'],
  brief: 'groups share a multicast MAC',
  harm: 'later',
  *check({ model, plan }) {
    const shared = sharedEthernet(plan, model.domains, model.groupRepeats, mayAlias);
    if (shared.length === 0) return;
    const keyingOf = keyings(plan, model.domains);
    for (const { mac, domain, also, legs } of byLabel(shared, (one) => `${formatMac(one.mac)} ${one.domain.title}`)) {
      const domains = [domain, ...also];
      const address = formatMac(mac);
      const keys = domains.map(keyingOf);
      if (keys.every(({ tellsApart }) => tellsApart)) continue;
      const switches = new Set(keys.flatMap(({ byMac }) => byMac.map(({ name }) => name)));
      const silent = new Set(keys.flatMap((one) => one.silent.map(({ name }) => name)));
      for (const set of legSets(legs, () => `${address} in ${domain.key}`)) {
        const { first, names, subject } = set;
        const change = set.legs.find(({ group }) => group !== first.group) ?? first;
        const free = model.proposals.groupFor(change);
        const offered = free === undefined ? [] : [{ leg: change, group: formatAddress(free) }];
        const regrouping = groupsFor(model, movers(set.legs, change), offered);
        const changedFirst: NonEmpty<Leg> = [change, ...set.legs.filter((leg) => leg !== change)];
        const ipv4 = isIPv4(first.group ?? 0);
        yield {
          subject,
          parties: names,
          severity: switches.size > 0 ? 'error' : 'warning',
          confidence: switches.size > 0 ? 'certain' : 'assumed',
          cure: () => regroupTo(model, regrouping),
          facts: {
            legs: set.legs,
            mac: address,
            where: domains.map(({ title }) => title),
            ipv4,
            switches: [...switches].sort(),
            silent: [...silent].sort(),
            moves: regrouping.moves.map(({ leg, group }) => ({ leg, group: formatAddress(group) })),
          },
          at: noted(mark(change, legLabel(change), 'group'), 'move'),
          others: otherMarks(changedFirst),
          touch: touchOf(change.sender),
          sources: ipv4 ? IPV4 : IPV6,
        };
      }
    }
  },
  words,
});

/** All legs of groups other than that of the leg that stays: the first one whose group no leg to change has. */
function movers(legs: NonEmpty<Leg>, change: Leg): readonly Leg[] {
  const stays = legs.find(({ group }) => group !== change.group)?.group ?? change.group;
  return legs.filter(({ group }) => group !== stays);
}
