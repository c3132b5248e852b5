/** Unit numbers before anything is clear or taken: a block for each line of the request, those of an area together. */
import type { Demand, LineDemand } from './demand.js';
import type { NumberRange } from './ranges.js';

export interface Layout {
  readonly firstUnit: number;
  /** Unit numbers of each line, spare ones included; a line that has outgrown its block has another behind all. */
  readonly blocks: ReadonlyMap<LineDemand, readonly NumberRange[]>;
  /** Lines that have outgrown the block of an earlier plan. */
  readonly outgrown: readonly LineDemand[];
  /** The highest unit number of a block, and the highest that may be given. */
  readonly lastPlanned: number;
  readonly last: number;
}

export interface LayoutOptions {
  readonly firstUnit: number;
  /** Each line starts at a number that ends in 1, so that tens tell boxes apart. */
  readonly tens: boolean;
  /** Numbers behind the last block, for boxes whose places are not clear. */
  readonly slack: number;
  /** Blocks an earlier plan has for lines. */
  readonly earlier: ReadonlyMap<LineDemand, readonly NumberRange[]>;
  /** The highest number an earlier plan has given or promised, or that is fixed in front. */
  readonly highest: number;
}

/** Lays out the blocks; those of an earlier plan stay, new ones go behind all of them. */
export function layOut(
  { lines }: Pick<Demand, 'lines'>,
  { firstUnit, tens, slack, earlier, highest }: LayoutOptions,
): Layout {
  const blocks = new Map<LineDemand, readonly NumberRange[]>();
  const outgrown: LineDemand[] = [];
  let next = Math.max(firstUnit, highest + 1);
  let lastPlanned = Math.max(firstUnit - 1, highest);
  let before: LineDemand | undefined;
  const block = (size: number): NumberRange => {
    const found = { first: next, last: next + size - 1 };
    next = found.last + 1;
    lastPlanned = Math.max(lastPlanned, found.last);
    return found;
  };
  for (const line of lines) {
    const known = earlier.get(line);
    if (known !== undefined) {
      const size = known.reduce((sum, { first, last }) => sum + last - first + 1, 0);
      const more = line.count > size;
      if (more) outgrown.push(line);
      blocks.set(line, more ? [...known, block(line.count - size + line.spare)] : known);
      continue;
    }
    // Single boxes of an area share a row of ten.
    const single = line.raw.count === undefined && before?.raw.count === undefined && before?.area === line.area;
    if (tens && !single) next = Math.ceil((next - 1) / 10) * 10 + 1;
    blocks.set(line, [block(line.count + line.spare)]);
    before = line;
  }
  return { firstUnit, blocks, outgrown, lastPlanned, last: lastPlanned + slack };
}

/** The unit number a place of a line has. */
export function unitAt({ blocks }: Layout, line: LineDemand, place: number): number {
  let rest = place;
  for (const { first, last } of blocks.get(line) ?? []) {
    if (rest <= last - first) return first + rest;
    rest -= last - first + 1;
  }
  return 0;
}
