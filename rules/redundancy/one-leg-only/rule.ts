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
  *check({ plan, threshold }) {
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
