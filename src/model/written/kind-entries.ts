import type { Device, Entity, Kind, Origin } from '../../plan/types.js';

/** The kind of a device, where it is the kind that writes all of these interfaces, senders or receivers. */
export function kindOf(device: Device, entries: readonly Entity[]): Kind | undefined {
  const { kind } = device;
  if (kind === undefined) return undefined;
  const raw = kind.origin.container as {
    readonly [list in 'interfaces' | 'senders' | 'receivers']?: readonly object[];
  };
  const written = new Set([...(raw.interfaces ?? []), ...(raw.senders ?? []), ...(raw.receivers ?? [])]);
  return entries.every((entry) => written.has(lowest(entry.origin).container)) ? kind : undefined;
}

function lowest(origin: Origin): Origin {
  return origin.base === undefined ? origin : lowest(origin.base);
}
