import { createEditList, likely, peopleDecide, type Cure } from '../../../src/doors/cures.js';
import {
  byLabel,
  clause,
  defineRule,
  formatAddress,
  groupBy,
  isIPv4,
  legLabel,
  mapAll,
  mark,
  noted,
  touchOf,
  type Leg,
  type Model,
} from '../../../src/doors/rule.js';
import { isSourceSpecificFor } from '../../../src/doors/sources.js';
import { words, type Facts, type MissingSource } from './words.js';

export default defineRule<Facts, 'no-source'>({
  id: 'sources/ssm-without-source',
  summary: 'A stream uses a source-specific group, but the plan gives it no source address',
  severity: 'error',
  sources: [clause('RFC 4607', '1'), clause('RFC 4604', '2')],
  needs: ['groups'],
  brief: 'source-specific group without a source',
  explains: ['refused join'],
  *check({ model }) {
    for (const [sender, bare] of groupBy(model.unusualLegs.sourceless.filter(lacksSource), (leg) => leg.sender)) {
      const legs = byLabel(bare, legLabel);
      const groups = legs.flatMap(({ group }) => (group === undefined ? [] : [formatAddress(group)]));
      const [at, ...others] = mapAll(legs, (leg) => noted(mark(leg, legLabel(leg), 'group'), 'no-source'));
      const missing = legs.map(missingSource);
      const handedOut = missing.every(({ why }) => why === 'dhcp');
      yield {
        severity: handedOut ? 'warning' : 'error',
        confidence: handedOut ? 'assumed' : 'certain',
        subject: `${sender.label} ${[...new Set(groups)].join(' ')}`,
        parties: [sender.label],
        cure: () => cure(model, legs),
        facts: { sender, groups, missing },
        at,
        others,
        touch: touchOf(sender),
      };
    }
  },
  words,
});

function lacksSource({ group, sender }: Leg): boolean {
  return group !== undefined && isSourceSpecificFor(sender.rig, group);
}

function missingSource({ interface: via, group }: Leg): MissingSource {
  if (via === undefined) return { why: 'no-interface' };
  if (via.dhcp) return { why: 'dhcp', via: via.name };
  return { why: 'no-address', via: via.name, family: group !== undefined && isIPv4(group) ? 'IPv4' : 'IPv6' };
}

/** A free address of the VLAN for the interface each leg leaves by. */
function cure({ proposals }: Model, legs: readonly Leg[]): Cure {
  const edits = createEditList();
  for (const { interface: via, group, vlan } of legs) {
    const four = group === undefined || isIPv4(group);
    const subnet = four ? vlan?.subnet : vlan?.subnet6;
    const free =
      via === undefined || via.dhcp || subnet === undefined ? undefined : proposals.address(vlan, subnet.network, via);
    if (via === undefined || subnet === undefined || free === undefined)
      return peopleDecide('which address the stream leaves from');
    edits.set(via, four ? 'address' : 'address6', `${formatAddress(free)}/${subnet.length}`);
  }
  return likely(edits);
}
