import { codingNamed } from '../../media/codings/index.js';
import type { Document } from '../../source/document.js';
import type { RawFormat } from '../../read/raw-plan.js';
import { parseFrameRate, parseRate, parseTime } from '../../values/quantity.js';
import type { Coding, Format, Origin, Referrer, Rig } from '../types.js';
import { originOf, Scope, type ResolveContext } from './context.js';
import { rawPlan, type Rigs } from './rigs.js';

export interface Formats {
  readonly all: readonly Format[];
  readonly scope: Scope<Format>;
}

export function resolveFormats(documents: readonly Document[], rigs: Rigs, context: ResolveContext): Formats {
  const scope = new Scope<Format>('format');
  const all = documents.flatMap((document) =>
    (rawPlan(document).formats ?? []).map((raw) => {
      const format = resolveFormat(document, raw, context);
      scope.add(rigs.of(document), raw.name, format);
      return format;
    }),
  );
  return { all, scope };
}

/** A format by name, or written out in place. */
export function formatOf(
  document: Document,
  raw: string | RawFormat | undefined,
  formats: Formats,
  rig: Rig,
  origin: Origin,
  by: Referrer,
  context: ResolveContext,
): Format | undefined {
  if (raw === undefined) return undefined;
  if (typeof raw !== 'string') return resolveFormat(document, raw, context);
  // A stream list writes a format as people say it; only where the plan has one of that name is more known.
  return document.isList ? formats.scope.find(rig, raw) : context.find(formats.scope, rig, origin, 'format', raw, by);
}

function resolveFormat(document: Document, raw: RawFormat, context: ResolveContext): Format {
  const origin = originOf(document, raw);
  const coding = raw.coding as Coding | undefined;
  return {
    origin,
    name: raw.name,
    essence: raw.essence ?? codingNamed(coding)?.essence,
    coding,
    width: raw.width,
    height: raw.height,
    frameRate: raw.frameRate === undefined ? undefined : parseFrameRate(String(raw.frameRate)),
    scan: raw.scan,
    sampling: raw.sampling,
    depth: raw.depth === undefined ? undefined : String(raw.depth),
    packing: raw.packing,
    channels: raw.channels,
    sampleRateHz: raw.sampleRate,
    sampleBits: raw.sampleBits,
    packetTimeNs: context.quantity(origin, 'packetTime', raw.packetTime, parseTime),
    maxUdpOctets: raw.maxUdp,
    rateBps: context.quantity(origin, 'rate', raw.rate, parseRate),
  };
}
