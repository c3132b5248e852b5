/** Steps at whatever takes a stream: what its own entry says, and what follows from the stream's new numbers. */
import { eachInput } from '../plan/inputs.js';
import type { Leg, Receiver, ReceiverLeg, Selection, Sender } from '../plan/types.js';
import { inPrefix } from '../values/address.js';
import { listNames } from '../words/lists.js';
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
    const pairs = pairUp(eachInput(before.receivers), eachInput(after.receivers), ({ name }) => name);
    for (const old of pairs.gone) steps.push(...aloneSteps(old, undefined));
    for (const [old, now] of pairs.both) {
      const own = changed(old, now, taken, context);
      if (own.some(({ box }) => box.kind !== 'plan')) affected++;
      steps.push(...own);
    }
    for (const now of pairs.fresh) steps.push(...aloneSteps(undefined, now));
  }
  return { steps, affected };
}

function aloneSteps(before: Receiver | undefined, after: Receiver | undefined): readonly Step[] {
  const one = after ?? before;
  return one === undefined ? [] : entrySteps(receiverPlace(one), 'takes', takesText(before), takesText(after));
}

/** `cam-31/video`, else the groups its entry states, else nothing but that it is there. */
function takesText(receiver: Receiver | undefined): string | undefined {
  if (receiver === undefined) return undefined;
  if (receiver.selection !== undefined) return choiceText(receiver.selection);
  if (receiver.takes !== undefined) return receiver.takes.label;
  const groups = receiver.legs.flatMap((leg) => destinationText({ ...numbers(leg), unicast: undefined }) ?? []);
  return groups.length === 0 ? 'anything' : groups.join(', ');
}

/** `one of 3 (cam-1/video, cam-2/video and cam-3/video)`, and how it goes from one to the next where that is stated. */
function choiceText({ atOnce, joinsFirst, choices }: Selection): string {
  const count = atOnce === 1 ? 'one' : String(atOnce);
  const names = choices.flatMap(({ takes }) => takes?.label ?? []);
  const next = joinsFirst === undefined ? '' : joinsFirst ? ', the next joined first' : ', the last left first';
  return `${count} of ${choices.length} (${listNames(names)})${next}`;
}

function numbers(leg: ReceiverLeg): Pick<Leg, 'group' | 'port'> {
  return { group: leg.group, port: leg.port };
}

function changed(before: Receiver, after: Receiver, taken: Taken, context: Context): readonly Step[] {
  const { identity } = context.pairing;
  const value = ({ takes, selection }: Receiver): { text: string; key: string } | undefined => {
    if (selection !== undefined)
      return { text: choiceText(selection), key: choiceKey(selection, (one) => String(identity(one))) };
    return takes === undefined ? undefined : { text: takes.label, key: String(identity(takes)) };
  };
  const old = value(before);
  const now = value(after);
  const repointed = old?.key !== now?.key;
  const steps: Step[] = [];
  // Most receivers of two revisions are alike: told before any words are made for them.
  if (repointed || before.format !== after.format || before.bufferNs !== after.bufferNs) {
    const place = receiverPlace(after);
    if (repointed) steps.push(...factSteps(place, { takes: old }, { takes: now }));
    steps.push(...formatSteps(place, before.format, after.format));
    if (before.bufferNs !== after.bufferNs)
      steps.push(...factSteps(place, { delay: timeText(before.bufferNs) }, { delay: timeText(after.bufferNs) }));
  }
  if (before.selection === undefined || after.selection === undefined)
    return [...steps, ...allLegSteps(before, after, repointed, taken)];
  // What every choice has in common is said once.
  const known = new Map<string, Step>();
  const choices = pairUp(before.selection.choices, after.selection.choices, ({ takes }) =>
    takes === undefined ? '' : String(identity(takes)),
  );
  for (const [old, now] of choices.both)
    for (const one of allLegSteps(old, now, false, taken)) {
      const key = JSON.stringify([one.at, one.what, one.old, one.new]);
      if (!known.has(key)) known.set(key, one);
    }
  return [...steps, ...known.values()];
}

function choiceKey({ atOnce, joinsFirst, choices }: Selection, key: (sender: Sender) => string): string {
  return JSON.stringify([atOnce, joinsFirst ?? '', choices.flatMap(({ takes }) => (takes ? [key(takes)] : [])).sort()]);
}

function allLegSteps(before: Receiver, after: Receiver, repointed: boolean, taken: Taken): readonly Step[] {
  const legs = Math.max(before.legs.length, after.legs.length);
  return Array.from({ length: legs }, (_, index) =>
    legSteps(before.legs[index], after.legs[index], repointed, taken),
  ).flat();
}

function legSteps(
  before: ReceiverLeg | undefined,
  after: ReceiverLeg | undefined,
  repointed: boolean,
  taken: Taken,
): readonly Step[] {
  const leg = after ?? before;
  if (leg === undefined) return [];
  if (before === undefined || after === undefined)
    return repointed ? [] : entrySteps(legPlace(leg), 'leg', legText(before), legText(after));
  const streams = taken(before, after);
  const differing = REACHED.flatMap(({ what, stated, of }) => {
    const own = stated(before) || stated(after);
    // Whoever points it at another stream gets that stream's numbers with it.
    if (!own && repointed) return [];
    const old = of(before, streams.before, false);
    const now = of(after, streams.after, streams.left);
    return old === now ? [] : [{ what, old, now, own: own && !streams.left }];
  });
  if (differing.length === 0 && before.interface?.name === after.interface?.name) return [];
  const place = legPlace(leg);
  return [
    ...factSteps(place, { interface: before.interface?.name }, { interface: after.interface?.name }),
    ...differing.filter(({ own }) => own).map(({ what, old, now }) => step(place, 'set', what, old, now)),
    ...patchStep(
      { ...place, why: whyPatched(streams) },
      differing.filter(({ own }) => !own),
    ),
  ];
}

interface Differing {
  readonly what: string;
  readonly old: string | undefined;
  readonly now: string | undefined;
}

/** One step, as one person does it in one go: `group and UDP port 239.1.1.1, 5004 → 239.1.1.2, 5005`. */
function patchStep(place: StepPlace, differing: readonly Differing[]): readonly Step[] {
  if (differing.length === 0) return [];
  const joined = (of: (one: Differing) => string | undefined): string | undefined =>
    differing.every((one) => of(one) === undefined) ? undefined : differing.map((one) => of(one) ?? 'none').join(', ');
  return [
    step(
      place,
      'patch',
      listNames(differing.map(({ what }) => what)),
      joined(({ old }) => old),
      joined(({ now }) => now),
    ),
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
