/**
 * What was read: a tree of plain values, and where each value stands in the file.
 *
 * Positions are not copied onto every value. A document keeps the tree exactly as it was read and can say, for any
 * container of that tree, where it and its entries stand: in lines of a text, in cells of a sheet, wherever its kind of
 * file has places. Rules name a place by container and key; only the places that reach a report are looked up, so a
 * clean plan of a million streams pays nothing for its positions.
 */

/** A mapping or sequence of the tree, identified by reference. */
export type Container = object;

export interface Document {
  /** The file as the user named it, `<stdin>` for standard input. */
  readonly name: string;
  /** Name of the reader that made it. */
  readonly format: string;
  /** What the file holds, as it was read. */
  readonly content: string | Uint8Array;
  /** The tree, in the shape of `schemas/plan.schema.json`, whatever the format it was read from. */
  readonly value: unknown;
  /** A list of streams names networks, VLANs and devices that it has no room to describe. */
  readonly isList: boolean;
  /** Where places of this document are; one linear pass however many are wanted. */
  locate(places: Iterable<Place>): Locator;
}

/** Places of one document as they are shown. Where one stands nowhere by itself, the start of the file. */
export type Locator = (place: Place) => Location;

/** A value of a document: an entry of a container, its key, or the container itself. */
export interface Place {
  readonly document: Document;
  readonly container: Container;
  /** Mapping key or sequence index; absent for the container itself. */
  readonly key?: string | number;
  /** Point at the key of the entry instead of its value. */
  readonly onKey?: boolean;
}

/**
 * Lines and columns count from 1; columns count UTF-16 code units, a tab as one. A file without lines counts what it has
 * in their place, so that places can be put in order: the rows and columns of a sheet.
 */
export interface Location {
  readonly file: string;
  readonly line: number;
  readonly column: number;
  readonly endLine: number;
  readonly endColumn: number;
  /** How a file without lines calls the place: `Streams!C7`, `/streams/3/group`. */
  readonly where?: string;
}
