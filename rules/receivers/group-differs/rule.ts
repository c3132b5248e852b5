import {
  byLabel,
  clause,
  defineRule,
  formatAddress,
  groupBy,
  legLabel,
  listNames,
  mark,
  nothingOf,
  otherPlaces,
  receiverLegLabel,
  sourceMark,
  type Leg,
  type Model,
  type ReceiverLeg,
  type Sender,
} from '../../../src/lint/rule.js';

export default defineRule({
  id: 'receivers/group-differs',
  summary: 'A receiver joins another group or source than the stream it takes is sent with',
  severity: 'error',
  sources: [clause('RFC 1112', '4'), clause('RFC 4607', '1')],
  needs: ['receivers'],
  *check({ plan, model }) {
    const wrong = groupBy(
      plan.receiverLegs.filter((leg) => groupDiffers(leg) || sourceDiffers(leg)),
      (leg) => leg.receiver,
    );
    // Receivers that are wrong in the same way have one cause: the stream was moved, or one line was copied.
    for (const [sender, receivers] of groupBy(wrong.keys(), (receiver) => receiver.takes)) {
      for (const [joined, list] of groupBy(receivers, (receiver) => joins(wrong.get(receiver) ?? []))) {
        const ordered = byLabel(list, ({ label }) => label);
        const [first] = ordered;
        const legs = first === undefined ? [] : (wrong.get(first) ?? []);
        const [leg] = legs;
        if (first === undefined || leg === undefined) continue;
        const names = ordered.map(({ label }) => label);
        const at = differenceMark(leg);
        yield {
          subject: `${sender.label} joined as ${joined}`,
          parties: [sender.label, ...names],
          what:
            `${listNames(names)} ${names.length === 1 ? 'takes' : 'take'} ${sender.label}, ` +
            `but ${listNames(legs.map((one) => clash(one, model)))}${swapped(sender, legs) ? ': the legs are swapped' : ''}`,
          at,
          others: otherPlaces(at, [
            ...ordered.flatMap((receiver) => (wrong.get(receiver) ?? []).map(differenceMark)),
            ...legs.flatMap(takenMark),
          ]),
          onAir: onAir(swapped(sender, legs), legs.length < first.legs.length, nothingOf([sender])),
          fix: `have ${names.length === 1 ? 'it' : 'them'} join ${listNames(legs.map(wanted))}, or take the stream that is meant`,
          touch: { kind: 'device', name: first.device.name },
        };
      }
    }
  },
});

function onAir(legsSwapped: boolean, otherPathLeft: boolean, nothing: string): string {
  if (legsSwapped) return `each leg waits for the group of the other network: ${nothing} on this receiver at all`;
  if (otherPathLeft)
    return 'this path gets nothing, or whatever else is sent there: with the other path lost the stream is gone';
  return `the receiver gets nothing, or whatever else is sent there: ${nothing}, or the wrong one`;
}

function groupDiffers({ takes, group, groupStated }: ReceiverLeg): boolean {
  const destination = takes?.group ?? takes?.unicast;
  return groupStated && destination !== undefined && group !== destination;
}

function sourceDiffers({ takes, source }: ReceiverLeg): boolean {
  return source !== undefined && takes?.source !== undefined && source !== takes.source;
}

function joins(legs: readonly ReceiverLeg[]): string {
  return legs
    .map((leg) =>
      [
        ...(groupDiffers(leg) && leg.group !== undefined ? [formatAddress(leg.group)] : []),
        ...(sourceDiffers(leg) && leg.source !== undefined ? [`from ${formatAddress(leg.source)}`] : []),
      ].join(' '),
    )
    .join(', ');
}

function clash(leg: ReceiverLeg, model: Model): string {
  const which = leg.receiver.legs.length > 1 ? `leg ${leg.index + 1} ` : '';
  const parts = [
    ...(groupDiffers(leg)
      ? [`joins ${text(leg.group)}${sendersOf(leg, model)} instead of ${text(leg.takes?.group ?? leg.takes?.unicast)}`]
      : []),
    ...(sourceDiffers(leg) ? [`asks for source ${text(leg.source)} instead of ${text(leg.takes?.source)}`] : []),
  ];
  return `${which}${listNames(parts)}`;
}

/** Whose group it is that is joined instead. */
function sendersOf(leg: ReceiverLeg, model: Model): string {
  const senders = new Set((model.reception.useOf(leg)?.legs ?? []).map(({ sender }) => sender.label));
  return senders.size === 0 ? '' : ` (${listNames(byLabel([...senders], (label) => label))})`;
}

function wanted(leg: ReceiverLeg): string {
  const group = groupDiffers(leg) ? text(leg.takes?.group ?? leg.takes?.unicast) : text(leg.group);
  const source = sourceDiffers(leg) ? ` from ${text(leg.takes?.source)}` : '';
  return `${group}${source}${leg.receiver.legs.length > 1 ? ` on leg ${leg.index + 1}` : ''}`;
}

function text(address: Leg['group']): string {
  return address === undefined ? '' : formatAddress(address);
}

/** Two legs, each with the group of the other. */
function swapped(sender: Sender, legs: readonly ReceiverLeg[]): boolean {
  const [one, two] = legs;
  if (legs.length !== 2 || one === undefined || two === undefined || one.group === undefined) return false;
  return (
    sender.legs.length === 2 &&
    one.takes !== two.takes &&
    one.group === two.takes?.group &&
    two.group === one.takes?.group
  );
}

function differenceMark(leg: ReceiverLeg): ReturnType<typeof mark> {
  const label = `${receiverLegLabel(leg)}: joins ${joins([leg])}`;
  return mark(leg, label, groupDiffers(leg) ? 'group' : 'source');
}

function takenMark(leg: ReceiverLeg): readonly ReturnType<typeof mark>[] {
  const { takes } = leg;
  if (takes === undefined) return [];
  if (!groupDiffers(leg)) return [sourceMark(takes, `${legLabel(takes)}: sends from ${text(takes.source)}`)];
  return [
    mark(
      takes,
      `${legLabel(takes)}: sends to ${text(takes.group ?? takes.unicast)}`,
      takes.group === undefined ? 'unicast' : 'group',
    ),
  ];
}
