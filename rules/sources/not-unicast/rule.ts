import { certainly, createEditList, peopleDecide, type Cure } from '../../../src/doors/cures.js';
import {
  byLabel,
  clause,
  defineRule,
  formatAddress,
  groupBy,
  legLabel,
  mapAll,
  mark,
  noted,
  receiverLegLabel,
  touchOf,
  type Leg,
  type ReceiverLeg,
  isIPv4,
} from '../../../src/doors/rule.js';
import { sourceFault } from '../../../src/doors/sources.js';
import { words, type Facts } from './words.js';

export default defineRule<Facts, 'states'>({
  id: 'sources/not-unicast',
  summary: 'A stated source address is none that a host can send from',
  severity: 'error',
  sources: [
    clause('RFC 1112', '7.2'),
    clause('RFC 1112', '4'),
    clause('RFC 1122', '3.2.1.3'),
    clause('RFC 3927', '2.7'),
    clause('RFC 4291', '2.7'),
  ],
  needs: ['sources'],
  brief: 'source no host can have',
  explains: ['unusable source'],
  *check({ plan, model }) {
    // What an interface has for an address is judged where it stands.
    const stated = [...model.unusualLegs.ownSource, ...plan.receiverLegs.filter((leg) => leg.source !== undefined)];
    const impossible = groupBy(stated, (leg) =>
      leg.source !== undefined && sourceFault(leg.source, leg.vlan) !== undefined ? leg.source : undefined,
    );
    for (const [address, unordered] of impossible) {
      const legs = byLabel(unordered, labelOf);
      const [first] = legs;
      const fault = sourceFault(address, first.vlan);
      if (fault === undefined) continue;
      const source = formatAddress(address);
      const [at, ...others] = mapAll(legs, (leg) => noted(mark(leg, labelOf(leg), 'source'), 'states'));
      yield {
        subject: source,
        parties: legs.map(labelOf),
        severity: fault.kind === 'link-local' ? 'warning' : 'error',
        cure: () => cure(legs, isIPv4(address)),
        facts: { source, fault, legs },
        at,
        others,
        touch: 'sender' in first ? touchOf(first.sender) : { kind: 'device', name: first.receiver.device.name },
      };
    }
  },
  words,
});

function labelOf(leg: Leg | ReceiverLeg): string {
  return 'sender' in leg ? legLabel(leg) : receiverLegLabel(leg);
}

/** The address of the interface the stream leaves by; what is said there needs no saying again. */
function cure(legs: readonly (Leg | ReceiverLeg)[], four: boolean): Cure {
  const edits = createEditList();
  for (const leg of legs) {
    const sends = 'sender' in leg ? leg : leg.takes;
    const own = four ? sends?.interface?.address : sends?.interface?.address6;
    if (own === undefined || sourceFault(own, sends?.vlan) !== undefined)
      return peopleDecide('which address the stream leaves from');
    edits.setWhereWritten(leg, 'source', formatAddress(own));
  }
  return certainly(edits);
}
