import {
  certainly,
  createEditList,
  likely,
  peopleDecide,
  type Cure,
  groupsFor,
  type Regrouping,
  regroupTo,
  removeEntry,
} from '../../../src/doors/cures.js';
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
  type Leg,
  type Model,
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
  harm: 'exposes',
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
      const regrouping = regroupingOf(model, first, second);
      yield {
        subject: `${sender.label} ${formatAddress(group)} in ${domain.key}${inRig(sender.rig)}`,
        parties: legs.map(legLabel),
        severity: onePath ? 'error' : 'warning',
        cure: () => cure(model, first, second, regrouping),
        facts: {
          sender,
          group: formatAddress(group),
          where: domain.title,
          onePath,
          sourcesKnown: legs.every(({ source }) => source !== undefined),
          leg: second.index + 1,
          sendFrom: onOnePath(first, second) ? (otherInterface(first, second) ?? 'other-network') : undefined,
          moves: regrouping.moves.map(({ leg, group }) => ({ leg, group: formatAddress(group) })),
        },
        at: noted(mark(second, legLabel(second), 'group'), 'move'),
        others: [first, ...rest].map((leg) => mark(leg, legLabel(leg), 'group')),
        touch: touchOf(sender),
      };
    }
  },
  words,
});

/** The second leg gets the group that is offered; both move where no group of its own suits the conventions beside the first's. */
function regroupingOf(model: Model, first: Leg, second: Leg): Regrouping {
  const free = secondLegGroup(first, second, model.heldTo, model.proposals);
  if (free !== undefined) return groupsFor(model, [second], [{ leg: second, group: formatAddress(free) }]);
  const alone = groupsFor(model, [second]);
  return alone.stuck === undefined ? alone : groupsFor(model, [first, second]);
}

/** The legs move, and the second leaves by the interface of the other network where both are on one. */
function cure(model: Model, first: Leg, second: Leg, regrouping: Regrouping): Cure {
  const edits = createEditList();
  const onePath = onOnePath(first, second);
  // A leg written twice, word for word, on a network that parts no legs.
  if (onePath && first.network?.leg === undefined && isCopy(first, second)) {
    removeEntry(edits, second, 'legs', second.sender);
    return likely(edits, 'which network the second leg is to leave by');
  }
  const via = onePath ? otherInterface(first, second) : undefined;
  if (onePath && via === undefined) return peopleDecide('which network the second leg is to leave by');
  if (via !== undefined) edits.setWhereWritten(second, 'interface', via.name);
  const moved = regroupTo(model, regrouping);
  if (moved.certainty === 'people') return moved;
  for (const edit of moved.edits) edits.put(edit, edit.value);
  return via === undefined ? certainly(edits) : likely(edits);
}

function isCopy(first: Leg, second: Leg): boolean {
  return JSON.stringify(first.origin.container) === JSON.stringify(second.origin.container);
}
