import {
  byLabel,
  clause,
  commonPractice,
  defineRule,
  groupBy,
  inRig,
  kindThatWrites,
  legLabel,
  listNames,
  mark,
  nothingOf,
  otherPlaces,
  touchOfKind,
  type Domains,
  type Interface,
  type Kind,
  type Leg,
  type Mark,
  type Receiver,
} from '../../../src/lint/rule.js';

export default defineRule({
  id: 'redundancy/one-leg-received',
  summary: 'A receiver takes one leg of a stream though it could take both',
  severity: 'warning',
  sources: [clause('ST 2022-7', '6'), commonPractice('a device on both networks takes both legs')],
  needs: ['pairs', 'receivers'],
  *check({ plan, model }) {
    const half = plan.receivers.flatMap((receiver) => halfTaken(receiver, model.domains));
    for (const [cause, list] of byLabel([...groupBy(half, causeOf)], ([key]) => key)) {
      const sorted = byLabel(list, ({ receiver }) => receiver.label);
      const [first] = sorted;
      if (first === undefined) continue;
      const kind = kindOfFault(first.receiver);
      const names = sorted.map(({ receiver }) => receiver.label);
      const left = byLabel([...new Set(sorted.map(({ other }) => other))], legLabel);
      const free = byLabel([...new Set(sorted.map(({ via }) => via.name))], (name) => name);
      const at = markOf(first.receiver);
      yield {
        subject: cause,
        parties: [...names, ...left.map(legLabel)],
        what: `${listNames(names)} ${names.length === 1 ? 'takes' : 'take'} one leg; ${listNames(left.map(legLabel), 4)} ${left.length === 1 ? 'is' : 'are'} in reach of ${listNames(free)} and not taken`,
        at,
        others: otherPlaces(
          at,
          sorted.slice(1).map(({ receiver }) => markOf(receiver)),
        ),
        onAir: `when anything on the way of the leg it takes fails, ${names.length === 1 ? 'this receiver gets' : 'these receivers get'} ${nothingOf(sorted.map(({ other }) => other.sender))}, while others that take both legs show no fault`,
        fix: `receive the second leg on ${listNames(free)}`,
        touch: kind === undefined ? { kind: 'device', name: first.receiver.device.name } : touchOfKind(kind),
      };
    }
  },
});

interface HalfTaken {
  readonly receiver: Receiver;
  readonly other: Leg;
  /** Interface that reaches the other leg. */
  readonly via: Interface;
}

/** A receiver with a second leg that goes wrong is left to the rules on receivers and VLANs. */
function halfTaken(receiver: Receiver, domains: Domains): readonly HalfTaken[] {
  const [leg, ...more] = receiver.legs;
  const { takes } = leg ?? {};
  if (leg === undefined || takes === undefined || more.length > 0 || takes.sender.legs.length < 2) return [];
  for (const other of takes.sender.legs) {
    if (other === takes || (other.vlan === undefined && other.network === undefined)) continue;
    const via = receiver.device.interfaces.find((one) => one !== leg.interface && stands(one, other, domains));
    if (via !== undefined) return [{ receiver, other, via }];
  }
  return [];
}

function stands(via: Interface, leg: Leg, domains: Domains): boolean {
  if (via.vlan === undefined && via.network === undefined) return false;
  return via.vlan === leg.vlan ? via.network === leg.network : domains.reach(via) === domains.reach(leg);
}

function causeOf({ receiver }: HalfTaken): string {
  const kind = kindOfFault(receiver);
  return `${kind === undefined ? receiver.device.name : `kind ${kind.name}`}${inRig(receiver.device.rig)}`;
}

/** The kind that writes the one leg for all its devices; undefined where the device's own entry does. */
function kindOfFault(receiver: Receiver): Kind | undefined {
  const [leg] = receiver.legs;
  if (leg === undefined) return undefined;
  return placeKey(receiver) === 'legs'
    ? kindThatWrites(leg, receiver.device, 'interface')
    : kindThatWrites(receiver, receiver.device, 'interfaces');
}

/** Where the one leg is written: in the kind, or as the list of the receiver itself. */
function markOf(receiver: Receiver): Mark {
  const [leg] = receiver.legs;
  const key = placeKey(receiver);
  const label = `${receiver.label}: one leg`;
  return leg !== undefined && key === 'legs' && kindOfFault(receiver) !== undefined
    ? mark(leg, label, 'interface')
    : mark(receiver, label, key);
}

/** A leg that is not written out stands where its receiver does. */
function placeKey({ origin, legs: [leg] }: Receiver): 'legs' | 'interfaces' {
  return leg !== undefined && leg.origin.container !== origin.container ? 'legs' : 'interfaces';
}
