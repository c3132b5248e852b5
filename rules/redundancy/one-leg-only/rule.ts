import { createEditList, likely, peopleDecide } from '../../../src/doors/cures.js';
import {
  byLabel,
  clauseFromMemory,
  commonPractice,
  defineRule,
  groupBy,
  inRig,
  otherPlaces,
  touchOf,
  touchOfKind,
  formatAddress,
  imageOf,
} from '../../../src/doors/rule.js';
import { causeOf, lacksSecondLeg, onlyLeg } from '../../../src/doors/redundancy.js';
import { words, type Facts } from './words.js';

export default defineRule<Facts, 'one leg'>({
  id: 'redundancy/one-leg-only',
  summary: 'A stream has one leg where its like have two',
  severity: 'warning',
  confidence: 'likely',
  sources: [clauseFromMemory('ST 2022-7', '6'), commonPractice('all streams of one sort are protected alike')],
  needs: ['pairs', 'devices'],
  brief: 'one leg where its like have two',
  harm: 'exposes',
  thresholds: {
    percent: {
      default: 80,
      what: "share of a rig's streams of one essence with two legs, in percent, from which the others count as forgotten",
    },
  },
  *check({ plan, model, threshold }) {
    const forgotten = lacksSecondLeg(plan, (rig) => threshold('percent', rig)).map((one) => ({
      ...one,
      place: onlyLeg(one.sender, one.leg),
    }));
    const byCause = groupBy(forgotten, ({ device, place }) => causeOf(place.kind, device));
    for (const [cause, unordered] of byLabel([...byCause], ([key]) => key)) {
      const list = byLabel(unordered, ({ sender }) => sender.label);
      const [{ sender, place }, ...rest] = list;
      const { kind, mark: at } = place;
      yield {
        subject: kind === undefined && rest.length === 0 ? `${sender.label}${inRig(sender.rig)}` : cause,
        parties: list.map((one) => one.sender.label),
        cure: () => {
          const edits = createEditList();
          for (const { sender: one, leg, spare } of kind === undefined ? list : []) {
            const mapped = leg.group === undefined ? undefined : imageOf(leg.group, one.rig.conventions.groupMap);
            if (spare === undefined || mapped === undefined || model.groups.usesOf(mapped).length > 0)
              return peopleDecide('which group the second leg has, or that there is none');
            const port = leg.port === undefined ? {} : { port: leg.port + (one.rig.conventions.portOffset ?? 0) };
            edits.append(one, 'legs', { interface: spare.name, group: formatAddress(mapped), ...port });
          }
          return likely(edits, 'which group the second leg has, or that there is none');
        },
        facts: {
          senders: list.map((one) => one.sender),
          habits: [...new Map(list.map(({ habit }) => [Object.values(habit).join(' '), habit])).values()],
          spares: byLabel([...new Set(list.flatMap(({ spare }) => spare?.name ?? []))], (name) => name),
        },
        at,
        others: otherPlaces(
          at,
          rest.map((one) => one.place.mark),
        ),
        touch: kind === undefined ? touchOf(sender) : touchOfKind(kind),
      };
    }
  },
  words,
});
