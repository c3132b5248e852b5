/** Steps at whatever takes a stream: what its own entry says, and what follows from the stream's new numbers. */
import type { Leg, Receiver, ReceiverLeg } from '../plan/types.js';
import { inPrefix } from '../values/address.js';
import type { Context } from './context.js';
import { entrySteps, factSteps, numeral, step, type StepPlace } from './facts.js';
import { moved } from './compare-streams.js';
import { formatSteps } from './format-steps.js';
import { pairUp } from './pairing.js';
import type { Step } from './steps.js';
import { createTaken, type Taken, type TakenLegs } from './taken.js';
import { addressText, destinationText, timeText } from './values.js';

export interface ReceiverSteps {
  readonly steps: readonly Step[];
  /** Receivers in both plans at which something is done. */
  readonly affected: number;
}

export function receiverSteps(context: Context): ReceiverSteps {
  const taken = createTaken(context);
  const steps: Step[] = [];
  let affected = 0;
  for (const [before, after] of context.pairing.devices.both) {
    const pairs = pairUp(before.receivers, after.receivers, ({ name }) => name);
    for (const old of pairs.gone) steps.push(...aloneSteps(old, undefined));
    for (const [old, now] of pairs.both) {
      const own = changed(old, now, taken, context);
      if (own.some(({ box }) => box.kind !== 'plan')) affected++;
      steps.push(...own);
    }
    for (const now of pairs.fresh) steps.push(...aloneSteps(undefined, now));
  }
  for (const device of context.pairing.devices.fresh)
    for (const now of device.receivers) steps.push(...aloneSteps(undefined, now));
  return { steps, affected };
}

function aloneSteps(before: Receiver | undefined, after: Receiver | undefined): readonly Step[] {
  const one = after ?? before;
  return one === undefined ? [] : entrySteps(receiverPlace(one), 'takes', takesText(before), takesText(after));
}

/** `cam-31/video`, else the groups its entry states, else nothing but that it is there. */
function takesText(receiver: Receiver | undefined): string | undefined {
  if (receiver === undefined) return undefined;
  if (receiver.takes !== undefined) return receiver.takes.label;
  const groups = receiver.legs.flatMap((leg) => destinationText({ ...numbers(leg), unicast: undefined }) ?? []);
  return groups.length === 0 ? 'anything' : groups.join(', ');
}

function numbers(leg: ReceiverLeg): Pick<Leg, 'group' | 'port'> {
  return { group: leg.group, port: leg.port };
}

function changed(before: Receiver, after: Receiver, taken: Taken, context: Context): readonly Step[] {
  const { identity } = context.pairing;
  const place = receiverPlace(after);
  const value = ({ takes }: Receiver): { text: string; key: string } | undefined =>
    takes === undefined ? undefined : { text: takes.label, key: String(identity(takes)) };
  const old = value(before);
  const now = value(after);
  const repointed = old?.key !== now?.key;
  const steps: Step[] = [
    ...(repointed ? factSteps(place, { takes: old }, { takes: now }) : []),
    ...formatSteps(place, before.format, after.format),
    ...(before.bufferNs === after.bufferNs
      ? []
      : factSteps(place, { delay: timeText(before.bufferNs) }, { delay: timeText(after.bufferNs) })),
  ];
  const legs = Math.max(before.legs.length, after.legs.length);
  for (let index = 0; index < legs; index++)
    steps.push(...legSteps(before.legs[index], after.legs[index], repointed, taken));
  return steps;
}

function legSteps(
  before: ReceiverLeg | undefined,
  after: ReceiverLeg | undefined,
  repointed: boolean,
  taken: Taken,
): readonly Step[] {
  const leg = after ?? before;
  if (leg === undefined) return [];
  const place = legPlace(leg);
  if (before === undefined || after === undefined)
    return repointed ? [] : entrySteps(place, 'leg', legText(before), legText(after));
  const streams = taken(before, after);
  const why = whyPatched(streams);
  return [
    ...factSteps(place, { interface: before.interface?.name }, { interface: after.interface?.name }),
    ...REACHED.flatMap(({ what, stated, of }) => {
      const own = stated(before) || stated(after);
      // Whoever points it at another stream gets that stream's numbers with it.
      if (!own && repointed) return [];
      const old = of(before, streams.before, false);
      const now = of(after, streams.after, streams.left);
      if (old === now) return [];
      return [
        own && !streams.left ? step(place, 'set', what, old, now) : step({ ...place, why }, 'patch', what, old, now),
      ];
    }),
  ];
}

function whyPatched({ before, after }: TakenLegs): string | undefined {
  if (after === undefined) return undefined;
  return `${after.sender.label} ${before === undefined || moved(before, after) ? 'moved' : 'changed'}`;
}

function legText(leg: ReceiverLeg | undefined): string | undefined {
  if (leg === undefined) return undefined;
  return leg.interface?.name ?? addressText(leg.group) ?? `leg ${leg.index + 1}`;
}

interface Reached {
  readonly what: string;
  readonly stated: (leg: ReceiverLeg) => boolean;
  readonly of: (leg: ReceiverLeg, stream: Leg | undefined, left: boolean) => string | undefined;
}

/** What a receiver has to know of a stream, from its own entry or else from the stream. */
const REACHED: readonly Reached[] = [
  {
    what: 'group',
    stated: ({ groupStated }) => groupStated,
    of: (leg, stream, left) => addressText(left ? stream?.group : leg.group),
  },
  {
    what: 'UDP port',
    stated: (leg) => leg.port !== undefined,
    of: (leg, stream) => numeral(leg.port ?? stream?.port),
  },
  {
    what: 'source',
    stated: (leg) => leg.source !== undefined,
    of: (leg, stream) => addressText(leg.source ?? (filters(leg, stream) ? stream?.source : undefined)),
  },
  {
    what: 'payload type',
    stated: (leg) => leg.payloadType !== undefined,
    of: (leg, stream) => numeral(leg.payloadType ?? stream?.payloadType),
  },
];

/** Source-specific groups are joined with a source (RFC 4607 §3), others where the plan says so. */
function filters(leg: ReceiverLeg, stream: Leg | undefined): boolean {
  if (leg.join !== undefined) return leg.join === 'stated';
  if (stream === undefined) return false;
  const { group } = stream;
  return (
    stream.sourceStated ||
    (group !== undefined && leg.receiver.rig.practice.sourceSpecific.some((prefix) => inPrefix(group, prefix)))
  );
}

function receiverPlace(receiver: Receiver): StepPlace {
  const { device, rig, name, legs, takes } = receiver;
  return {
    rig: rig.name,
    box: { kind: 'device', name: device.name },
    at: name,
    network: (legs[0]?.network ?? takes?.legs[0]?.network)?.name,
    part: 'receivers',
  };
}

function legPlace(leg: ReceiverLeg): StepPlace {
  const place = receiverPlace(leg.receiver);
  return {
    ...place,
    at: `${leg.receiver.name}, leg ${leg.index + 1}`,
    network: (leg.network ?? leg.takes?.network)?.name,
  };
}
