/** Streams known by description only, and which of them describe a stream the plan has already. */
import { append } from '../../collections/group-by.js';
import type { Document } from '../../source/document.js';
import type { Address } from '../../values/address.js';
import type { Description, Device, Leg, Sender } from '../types.js';
import { Scope } from './context.js';
import { resolveSender, type DeviceInput } from './devices.js';
import { rawPlan } from './rigs.js';

export interface Streams {
  readonly senders: readonly Sender[];
  readonly descriptions: readonly Description[];
  readonly scope: Scope<Sender>;
}

export function resolveStreams(
  documents: readonly Document[],
  devices: readonly Device[],
  input: DeviceInput,
): Streams {
  const scope = new Scope<Sender>('stream');
  const senders: Sender[] = [];
  const descriptions: Description[] = [];
  const streams = documents.flatMap((document) =>
    (rawPlan(document).streams ?? []).map((raw) =>
      resolveSender(
        { document, base: undefined, raw, inherited: undefined, device: undefined, rig: input.rigs.of(document) },
        input,
      ),
    ),
  );
  if (streams.length === 0) return { senders, descriptions, scope };
  const known = new Map<Address, Leg[]>();
  for (const device of devices) for (const sender of device.senders) remember(known, sender);
  for (const stream of streams) {
    scope.add(stream.rig, stream.name, stream);
    const of = describedBy(stream, known);
    if (of === undefined) {
      senders.push(stream);
      remember(known, stream);
    } else descriptions.push({ sender: stream, of });
  }
  return { senders, descriptions, scope };
}

function remember(known: Map<Address, Leg[]>, sender: Sender): void {
  for (const leg of sender.legs) {
    const destination = leg.group ?? leg.unicast;
    if (destination === undefined) continue;
    append(known, destination, leg);
  }
}

/** The sender all of whose described legs are this stream's: same destination, and same source, session or name. */
function describedBy(stream: Sender, known: ReadonlyMap<Address, readonly Leg[]>): Sender | undefined {
  let of: Sender | undefined;
  for (const leg of stream.legs) {
    const destination = leg.group ?? leg.unicast;
    if (destination === undefined) return undefined;
    const match = known
      .get(destination)
      ?.find((other) => (of === undefined || other.sender === of) && sameStream(leg, other));
    if (match === undefined) return undefined;
    of = match.sender;
  }
  return of;
}

function sameStream(described: Leg, leg: Leg): boolean {
  const a = described.sender;
  const b = leg.sender;
  const together = a.origin.document === b.origin.document;
  // RFC 8866 §5.2: an origin names one session for the world; the same file twice is one stream, not a clash.
  if (a.session !== undefined && b.session !== undefined) {
    return (
      !together &&
      a.session === b.session &&
      described.source === leg.source &&
      described.port === leg.port &&
      described.index === leg.index
    );
  }
  // Two rows of one list, or two entries of one file, are two streams even when all their numbers are equal.
  if (together) return false;
  if (described.source !== undefined && leg.source !== undefined)
    return described.source === leg.source && (described.port ?? leg.port) === (leg.port ?? described.port);
  return plainName(a.label) === plainName(b.label) || plainName(a.name) === plainName(b.name);
}

function plainName(text: string): string {
  return text
    .toLowerCase()
    .replace(/[^\p{L}\p{N}]+/gu, ' ')
    .trim();
}
