/**
 * The delay of one reception, part by part, from what the sender captures to what comes out of the receiver's device.
 * What the plan does not say is listed and not guessed; the sum is then a least one.
 */
import type { Receiver, Sender } from '../../plan/types.js';
import type { Network } from '../network/index.js';
import { packingOf } from './packing.js';
import { linkNames, waysTo } from './path.js';

export type DelayPart = 'sender' | 'packets' | 'way' | 'buffer' | 'device';

export type DelaySource =
  | 'stream delay'
  | 'device delay'
  | 'packet time'
  | 'usual packet time'
  | 'transmission offset'
  | 'links'
  | 'receiver delay'
  | 'link offset';

/** How sure a part is: written so, follows from what is written, or what is usual. */
export type DelayBasis = 'stated' | 'computed' | 'assumed';

export interface DelayItem {
  readonly part: DelayPart;
  readonly ns: number;
  readonly from: DelaySource;
  /** What states it: a stream, a device, an input, links. */
  readonly names: readonly string[];
}

/** What is not known, and of what. */
export interface DelayGap {
  readonly lacks: 'sender delay' | 'packet time' | 'place' | 'length' | 'buffer' | 'device delay' | 'reception';
  readonly names: readonly string[];
}

export interface Budget {
  readonly receiver: Receiver;
  readonly sender: Sender;
  readonly items: readonly DelayItem[];
  readonly gaps: readonly DelayGap[];
  /** Of what is known: at least this much where there are gaps. */
  readonly totalNs: number;
}

/** What a reception is reckoned with besides the plan's entities. */
export interface BudgetContext {
  readonly network: Network;
  readonly linkOffsetOf: (receiver: Receiver) => number | undefined;
}

export function basisOf(from: DelaySource): DelayBasis {
  switch (from) {
    case 'links':
      return 'computed';
    case 'usual packet time':
    case 'transmission offset':
      return 'assumed';
    case 'stream delay':
    case 'device delay':
    case 'packet time':
    case 'receiver delay':
    case 'link offset':
      return 'stated';
  }
}

/** Whether a sum holds a packet time that nobody states and that is only what most senders are set to. */
export function restsOnUsual({ items }: Pick<Budget, 'items'>): boolean {
  return items.some(({ from }) => from === 'usual packet time');
}

/** The budget of one reception of a stream of the plan. */
export function budgetOf(receiver: Receiver, sender: Sender, context: BudgetContext): Budget {
  const parts = [senderPart(sender), ...hopParts(receiver, sender, context), devicePart(receiver)];
  return { receiver, sender, ...joinParts(parts) };
}

/** An item, or what is missing for it. */
export type Part = DelayItem | DelayGap | undefined;

export function joinParts(parts: readonly Part[]): Pick<Budget, 'items' | 'gaps' | 'totalNs'> {
  const items: DelayItem[] = [];
  const gaps: DelayGap[] = [];
  for (const part of parts) {
    if (part === undefined) continue;
    if ('lacks' in part) gaps.push(part);
    else items.push(part);
  }
  return { items, gaps, totalNs: items.reduce((sum, item) => sum + item.ns, 0) };
}

/** From capture, or from the inputs of a device in between, until packets leave. */
export function senderPart(sender: Sender): Part {
  const { delayNs, device, label } = sender;
  if (delayNs !== undefined) return { part: 'sender', ns: delayNs, from: 'stream delay', names: [label] };
  if (device?.delayNs !== undefined) {
    return { part: 'sender', ns: device.delayNs, from: 'device delay', names: [device.name] };
  }
  return { lacks: 'sender delay', names: [label] };
}

/** From the first packet's start to the end of the receiver's buffer. */
export function hopParts(receiver: Receiver, sender: Sender, context: BudgetContext): readonly Part[] {
  const packing = packingOf(sender);
  const packets: Part =
    packing !== undefined
      ? { part: 'packets', ns: packing.ns, from: packing.from, names: [sender.label] }
      : sender.essence === 'audio'
        ? { lacks: 'packet time', names: [sender.label] }
        : undefined;
  const way = wayParts(receiver, context.network);
  const before = joinParts([packets, ...way]);
  if (receiver.bufferNs !== undefined) {
    return [
      packets,
      ...way,
      { part: 'buffer', ns: receiver.bufferNs, from: 'receiver delay', names: [receiver.label] },
    ];
  }
  const offset = sender.essence === 'audio' ? context.linkOffsetOf(receiver) : undefined;
  if (offset !== undefined) {
    // The offset counts from the sample's own time, so packets and way are in it, known or not (AES67 §7.5).
    const rest: DelayItem = {
      part: 'buffer',
      ns: Math.max(0, offset - before.totalNs),
      from: 'link offset',
      names: [receiver.label],
    };
    return [...before.items, rest];
  }
  // What a device states from input to output has the buffer of its inputs in it.
  const buffer: Part = receiver.device.delayNs === undefined ? { lacks: 'buffer', names: [receiver.label] } : undefined;
  return [packets, ...way, buffer];
}

function wayParts(receiver: Receiver, network: Network): readonly Part[] {
  const { slowest, unplaced } = waysTo(receiver, network);
  const known: Part =
    slowest === undefined ? undefined : { part: 'way', ns: slowest.ns, from: 'links', names: linkNames(slowest.links) };
  const length: Part =
    slowest === undefined || slowest.unmeasured.length === 0
      ? undefined
      : { lacks: 'length', names: linkNames(slowest.unmeasured) };
  const place: Part =
    slowest === undefined || unplaced.length > 0 ? { lacks: 'place', names: [receiver.label] } : undefined;
  return [known, length, place];
}

/** What the receiver's device takes until its output. */
export function devicePart({ device }: Receiver): Part {
  return device.delayNs === undefined
    ? { lacks: 'device delay', names: [device.name] }
    : { part: 'device', ns: device.delayNs, from: 'device delay', names: [device.name] };
}
