/** Steps that follow where streams differ, at the boxes that send them. */
import type { Leg, Sender } from '../plan/types.js';
import type { Context } from './context.js';
import { entrySteps, factSteps, holding, numeral, type Facts, type StepPlace } from './facts.js';
import { groupKey } from './held.js';
import { formatSteps } from './format-steps.js';
import type { Step } from './steps.js';
import { addressText, destinationText, timeText } from './values.js';

export function streamSteps(context: Context): readonly Step[] {
  const { senders } = context.pairing;
  return [
    ...senders.both.flatMap(([before, after]) => changed(before, after, context)),
    ...senders.gone.flatMap((sender) => legsAlone(sender, 'gone')),
    ...senders.fresh.flatMap((sender) => legsAlone(sender, 'fresh')),
  ];
}

/** Whether a stream goes elsewhere, or comes from elsewhere, on a leg. */
export function moved(before: Leg, after: Leg): boolean {
  return (
    before.group !== after.group ||
    before.unicast !== after.unicast ||
    before.port !== after.port ||
    before.source !== after.source
  );
}

function changed(before: Sender, after: Sender, context: Context): readonly Step[] {
  const steps: Step[] = [];
  const legs = Math.max(before.legs.length, after.legs.length);
  for (let index = 0; index < legs; index++) steps.push(...legSteps(before.legs[index], after.legs[index], context));
  const place = (): StepPlace => ({ ...senderPlace(after), network: after.legs[0]?.network?.name });
  if (before.format !== after.format) steps.push(...formatSteps(place(), before.format, after.format));
  if (before.delayNs !== after.delayNs || before.essence !== after.essence)
    steps.push(
      ...factSteps(
        { ...place(), box: { kind: 'plan', name: after.label }, at: undefined, part: 'paper' },
        { essence: before.essence, delay: timeText(before.delayNs) },
        { essence: after.essence, delay: timeText(after.delayNs) },
      ),
    );
  return steps;
}

function legSteps(before: Leg | undefined, after: Leg | undefined, { pairing }: Context): readonly Step[] {
  const leg = after ?? before;
  if (leg === undefined) return [];
  if (before === undefined || after === undefined) return oneStream(legPlace(leg), before, after);
  const rest = alikeButGroup(before, after);
  if (rest && before.group === after.group) return [];
  const place = legPlace(leg);
  const [old, now] = [{ group: addressText(before.group) }, { group: addressText(after.group) }];
  return [
    ...holding(factSteps(place, old, now), [groupKey(before)], [groupKey(after)]),
    ...(rest ? [] : factSteps(place, legFacts(before, pairing.identity), legFacts(after, pairing.identity))),
  ];
}

function oneStream(place: StepPlace, before: Leg | undefined, after: Leg | undefined): readonly Step[] {
  return holding(entrySteps(place, 'stream', sent(before), sent(after)), [groupKey(before)], [groupKey(after)]);
}

/** Most legs of two revisions are: told before any words are made for them. */
function alikeButGroup(before: Leg, after: Leg): boolean {
  return (
    before.unicast === after.unicast &&
    before.port === after.port &&
    before.source === after.source &&
    before.interface?.name === after.interface?.name &&
    before.interface !== undefined &&
    before.payloadType === after.payloadType &&
    before.packetTimeNs === after.packetTimeNs &&
    before.sender.format?.packetTimeNs === after.sender.format?.packetTimeNs &&
    before.ttl === after.ttl &&
    before.dscp === after.dscp &&
    before.sourcePort === after.sourcePort &&
    before.referenceClock === after.referenceClock &&
    before.mediaClock === after.mediaClock &&
    before.interface.address === after.interface?.address &&
    before.interface.address6 === after.interface?.address6
  );
}

/** But its group. */
function legFacts(leg: Leg, identity: (thing: object) => number): Facts {
  const { interface: via, vlan, network } = leg;
  // What leaves an interface bears its address: a step there already.
  const ownSource = leg.source === via?.address || leg.source === via?.address6;
  return {
    interface: via?.name,
    VLAN: via !== undefined || vlan === undefined ? undefined : { text: vlan.name, key: String(identity(vlan)) },
    network: via !== undefined || vlan !== undefined ? undefined : network?.name,
    destination: addressText(leg.unicast),
    'UDP port': numeral(leg.port),
    source: ownSource ? undefined : addressText(leg.source),
    'source UDP port': numeral(leg.sourcePort),
    'payload type': numeral(leg.payloadType),
    'packet time': timeText(leg.packetTimeNs === leg.sender.format?.packetTimeNs ? undefined : leg.packetTimeNs),
    TTL: numeral(leg.ttl),
    DSCP: numeral(leg.dscp),
    'reference clock': leg.referenceClock,
    'media clock': leg.mediaClock,
  };
}

function legsAlone(sender: Sender, side: 'gone' | 'fresh'): readonly Step[] {
  const place = senderPlace(sender);
  if (sender.legs.length === 0)
    return side === 'gone'
      ? entrySteps(place, 'stream', sender.label, undefined)
      : entrySteps(place, 'stream', undefined, sender.label);
  return sender.legs.flatMap((leg) =>
    side === 'gone' ? oneStream(legPlace(leg), leg, undefined) : oneStream(legPlace(leg), undefined, leg),
  );
}

/** `239.192.10.31:20000`, or the stream's name where no destination is known. */
function sent(leg: Leg | undefined): string | undefined {
  return leg === undefined ? undefined : (destinationText(leg) ?? leg.sender.label);
}

function legPlace(leg: Leg): StepPlace {
  const place = senderPlace(leg.sender);
  const at = leg.sender.device === undefined ? '' : `${leg.sender.name}, `;
  return { ...place, at: `${at}leg ${leg.index + 1}`, network: leg.network?.name };
}

/** A stream known from a list only is done at the box that sends it, and its name is all there is of that. */
function senderPlace({ rig, device, name, label }: Sender): StepPlace {
  return {
    rig: rig.name,
    box: { kind: 'device', name: device?.name ?? label },
    at: device === undefined ? undefined : name,
    part: 'senders',
  };
}
