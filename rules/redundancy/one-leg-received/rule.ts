import { createEditList, likely, peopleDecide } from '../../../src/doors/cures.js';
import {
  byLabel,
  clauseFromMemory,
  commonPractice,
  defineRule,
  groupBy,
  legLabel,
  otherPlaces,
  touchOfKind,
} from '../../../src/doors/rule.js';
import { causeOf, eachOnce, halfTaken, onlyLeg } from '../../../src/doors/redundancy.js';
import { words, type Facts } from './words.js';

export default defineRule<Facts, 'one leg'>({
  id: 'redundancy/one-leg-received',
  summary: 'A receiver takes one leg of a stream though it could take both',
  severity: 'warning',
  sources: [clauseFromMemory('ST 2022-7', '6'), commonPractice('a device on both networks takes both legs')],
  needs: ['pairs', 'receivers'],
  brief: 'takes one leg of two',
  harm: 'exposes',
  *check({ plan, model }) {
    const half = halfTaken(plan, model.domains).map((one) => ({ ...one, place: onlyLeg(one.receiver, one.leg) }));
    const byCause = groupBy(half, ({ receiver, place }) => causeOf(place.kind, receiver.device));
    for (const [cause, unordered] of byLabel([...byCause], ([key]) => key)) {
      const all = byLabel(unordered, ({ receiver }) => receiver.label);
      const list = eachOnce(all, ({ receiver }) => receiver);
      const [{ receiver, place }, ...rest] = list;
      const receivers = list.map((one) => one.receiver);
      const left = byLabel([...new Set(all.map(({ other }) => other))], legLabel);
      const at = place.mark;
      yield {
        subject: cause,
        parties: [...receivers.map(({ label }) => label), ...left.map(legLabel)],
        cure: () => {
          const edits = createEditList();
          for (const { receiver: one, leg, via } of list) {
            const inList = leg.origin.container === one.origin.container;
            if (place.kind !== undefined) return peopleDecide('whether all devices of the kind take both legs');
            edits.append(one, inList ? 'interfaces' : 'legs', inList ? via.name : { interface: via.name });
          }
          return likely(edits);
        },
        facts: {
          receivers,
          left,
          free: byLabel([...new Set(list.map(({ via }) => via.name))], (name) => name),
        },
        at,
        others: otherPlaces(
          at,
          rest.map((one) => one.place.mark),
        ),
        touch: place.kind === undefined ? { kind: 'device', name: receiver.device.name } : touchOfKind(place.kind),
      };
    }
  },
  words,
});
