/** How a group is made up of what a crew wants to read from it: area, unit, stream. */
import type { RawNumbering } from '../read/raw-plan.js';

export type FieldName = 'area' | 'unit' | 'stream';

export interface Field {
  readonly field: FieldName;
  readonly bits: number;
}

export type StreamNumbering = 'essence' | 'order';
export type HostNumbering = 'unit' | 'place';

/** Fields from the uppermost bit behind the network's block to the lowest. */
export interface Pattern {
  readonly fields: readonly Field[];
  readonly streams: StreamNumbering;
}

export type FieldValues = Readonly<Record<FieldName, number>>;

/** First numbers of pictures, sound and data, and how many each may have, where the stream field tells the essence. */
export const ESSENCE_STREAMS = {
  video: { first: 1, count: 100 },
  audio: { first: 101, count: 100 },
  data: { first: 201, count: 54 },
} as const;

/** How many bits all fields have together. */
export function widthOf({ fields }: Pick<Pattern, 'fields'>): number {
  return fields.reduce((sum, { bits }) => sum + bits, 0);
}

/** The largest number a field can hold; 0 for a field that is not there. */
export function largest({ fields }: Pick<Pattern, 'fields'>, name: FieldName): number {
  const bits = fields.find(({ field }) => field === name)?.bits;
  return bits === undefined ? 0 : 2 ** bits - 1;
}

/** What the fields add to the first group of a network's block. */
export function encode({ fields }: Pick<Pattern, 'fields'>, values: FieldValues): number {
  return fields.reduce((sum, { field, bits }) => sum * 2 ** bits + values[field], 0);
}

/** The fields of a group `offset` above the first one of its block; undefined when it lies outside. */
export function decode({ fields }: Pick<Pattern, 'fields'>, offset: number): FieldValues | undefined {
  if (offset < 0 || offset >= 2 ** widthOf({ fields })) return undefined;
  const values = { area: 0, unit: 0, stream: 0 };
  let rest = offset;
  for (const { field, bits } of fields.toReversed()) {
    values[field] = rest % 2 ** bits;
    rest = Math.floor(rest / 2 ** bits);
  }
  return values;
}

/** What a pattern has to hold. */
export interface PatternNeed {
  readonly units: number;
  /** Most streams of one device, and whether they fit the numbers that tell the essence. */
  readonly streams: number;
  readonly essences: boolean;
}

/**
 * Patterns to try in this order, none wider than `bits`: an octet for the unit and one for the stream where both fit; else
 * what is needed for the stream and the rest, which a rig outgrows sooner, for the unit; else just what is needed.
 */
export function patternsFor({ units, streams, essences }: PatternNeed, bits: number): readonly Pattern[] {
  const found: Pattern[] = [];
  const octets: readonly Field[] = [
    { field: 'unit', bits: 8 },
    { field: 'stream', bits: 8 },
  ];
  if (units < 255 && bits >= 16) {
    if (essences) found.push({ fields: octets, streams: 'essence' });
    if (streams < 255) found.push({ fields: octets, streams: 'order' });
  }
  const unitBits = bitsFor(units);
  const streamBits = bitsFor(streams);
  if (unitBits + streamBits <= bits) {
    const tight: readonly Field[] = [
      { field: 'unit', bits: unitBits },
      { field: 'stream', bits: streamBits },
    ];
    const spare = Math.max(0, Math.min(16, bits) - unitBits - streamBits);
    found.push({
      fields: [
        { field: 'unit', bits: unitBits + spare },
        { field: 'stream', bits: streamBits },
      ],
      streams: 'order',
    });
    if (spare > 0) found.push({ fields: tight, streams: 'order' });
  }
  return found;
}

/** Bits for the numbers from 0 to this one. */
export function bitsFor(number: number): number {
  return Math.max(1, Math.ceil(Math.log2(number + 1)));
}

/** The pattern an earlier plan was made with; undefined when it does not say. */
export function patternOf(numbering: RawNumbering): Pattern | undefined {
  return numbering.groups === undefined
    ? undefined
    : { fields: numbering.groups, streams: numbering.streams ?? 'order' };
}
