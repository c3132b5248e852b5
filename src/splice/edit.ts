/**
 * New values for entries of a plan, written into its text by replacing just the characters of the old ones: comments,
 * order, quoting and line ends stay as they are. What comes out is read again and held against what was meant.
 */
import { readDocument } from '../read/index.js';
import type { ReaderName } from '../read/readers.js';
import type { Container, Document, Place } from '../source/document.js';
import { locateAll } from '../source/locate.js';
import { isText, type ContainerSpans, type TextDocument } from '../source/text-document.js';
import type { Problem } from '../source/problem.js';
import type { Edit, EditValue } from '../edits/entry.js';
import { firstDifference, sameValue, type EditsByContainer } from './same-tree.js';
import { sharedContainers } from './shared.js';
import { spreadEdits } from './spread.js';
import { createCsvSplicer } from './splice-csv.js';
import { spliceJson } from './splice-json.js';
import { spliceSdp } from './splice-sdp.js';
import { spliceYaml } from './splice-yaml.js';
import { writeYaml } from './yaml-text.js';
import { spliceText, valueAt, type CreateSplicer, type PlacedSplice, type Splice, type Splicer } from './splice.js';

export type { Edit, EditValue, Scalar } from '../edits/entry.js';

/** The new text of a document, or why there is none. */
export type AppliedEdits =
  | {
      readonly text: string;
      /** The new text as it is read. */
      readonly document: Document;
      /** Characters that changed, in the order of the old text. */
      readonly splices: readonly Splice[];
      readonly problems: readonly [];
    }
  | { readonly text: undefined; readonly problems: readonly Problem[] };

/** How values are written into one kind of text. */
interface Writer {
  readonly splicer: CreateSplicer;
  /** A value as somebody writes it by hand. */
  readonly value: (value: EditValue) => string;
  /** Whether one entry may stand for several of the tree, as an anchor's aliases do. */
  readonly shares: boolean;
}

const plain = { value: (value: EditValue) => JSON.stringify(value), shares: false };
const WRITERS: ReadonlyMap<string, Writer> = new Map<ReaderName, Writer>([
  ['yaml', { splicer: () => spliceYaml, value: writeYaml, shares: true }],
  ['json', { ...plain, splicer: () => spliceJson }],
  ['csv', { ...plain, splicer: createCsvSplicer }],
  ['sdp', { ...plain, splicer: () => spliceSdp }],
]);

/** All edits or none: a file that can't be written as meant stays as it is, and says where and what to write by hand. */
export function applyEdits(document: Document, edits: readonly Edit[]): AppliedEdits {
  const { wanted: given, faults } = byContainer(edits);
  const writer = WRITERS.get(document.format);
  if (writer === undefined || !isText(document))
    return failed([...faults, whole(edits, 'this is a file the program can read but not write')]);
  const shared = writer.shares ? sharedContainers(document.value) : new Set<Container>();
  const wanted = spreadEdits(given, shared);
  const { splices, refused } = splicesOf(document, writer.splicer(document), wanted, shared);
  faults.push(...refused);
  if (faults.length > 0) return failed(faults);
  if (splices.length === 0) return { text: document.text, document, splices: [], problems: [] };
  const text = spliceText(document.text, splices);
  if (text === undefined) return failed([whole(edits, "the entries to change from here on get in each other's way")]);
  const { document: now, problems } = readDocument({ name: document.name, format: document.format, text });
  if (now === undefined) {
    const [first] = problems;
    return failed([
      whole(edits, `the plan can't be read with its new values${first === undefined ? '' : `: ${first.what}`}`),
    ]);
  }
  const root = document.value;
  const difference = typeof root === 'object' && root !== null ? firstDifference(root, now.value, wanted) : undefined;
  if (difference !== undefined) return failed([unlike(document, difference, wanted, edits)]);
  const made = splices.map(({ splice }) => splice).sort((a, b) => a.start - b.start);
  return { text, document: now, splices: made, problems: [] };
}

interface Fault {
  readonly edit: Edit | undefined;
  readonly place: Place;
  readonly why: string;
  /** What to do before the entry is written by hand. */
  readonly first?: string;
}

/** The edits that change something. */
function byContainer(edits: readonly Edit[]): { readonly wanted: EditsByContainer; readonly faults: Fault[] } {
  const wanted = new Map<Container, Map<string | number, Edit>>();
  const faults: Fault[] = [];
  for (const edit of edits) {
    const { container, key, value } = edit;
    let own = wanted.get(container);
    if (own === undefined) wanted.set(container, (own = new Map<string | number, Edit>()));
    const other = own.get(key);
    if (other === undefined) own.set(key, edit);
    else if (!sameValue(other.value, value))
      faults.push({ edit, place: edit, why: 'this entry is to be changed twice' });
  }
  for (const [container, own] of wanted) {
    for (const [key, { value }] of own) if (sameValue(valueAt(container, key), value)) own.delete(key);
    if (own.size === 0) wanted.delete(container);
  }
  return { wanted, faults };
}

/**
 * What each set of edits would change in a document's text, undefined where one can't be written. The document is looked
 * through once, however many sets there are, and nothing is read again: `applyEdits` proves what it writes, this shows it.
 */
export function splicesOfEach(
  document: Document,
  sets: readonly (readonly Edit[])[],
): readonly (readonly Splice[] | undefined)[] {
  const writer = WRITERS.get(document.format);
  if (writer === undefined || !isText(document)) return sets.map(() => undefined);
  const shared = writer.shares ? sharedContainers(document.value) : new Set<Container>();
  const prepared = sets.map((edits) => {
    const { wanted, faults } = byContainer(edits);
    return faults.length > 0 ? undefined : spreadEdits(wanted, shared);
  });
  const all = document.spans(new Set(prepared.flatMap((wanted) => [...(wanted?.keys() ?? [])])));
  const splicer = writer.splicer(document);
  return prepared.map((wanted) => {
    if (wanted === undefined) return undefined;
    const { splices, refused } = splicesOf(document, splicer, wanted, shared, all);
    if (refused.length > 0) return undefined;
    return splices.map(({ splice }) => splice).sort((a, b) => a.start - b.start);
  });
}

function splicesOf(
  document: TextDocument,
  splicer: Splicer,
  wanted: EditsByContainer,
  shared: ReadonlySet<Container>,
  all: ReadonlyMap<Container, ContainerSpans> = document.spans(new Set(wanted.keys())),
): { readonly splices: readonly PlacedSplice[]; readonly refused: readonly Fault[] } {
  const splices: PlacedSplice[] = [];
  const refused: Fault[] = [];
  for (const [container, own] of wanted) {
    const edits = [...own.values()];
    const spans = all.get(container);
    if (shared.has(container) || spans === undefined) {
      const why = shared.has(container)
        ? 'this entry is shared through an anchor (`&name`) and its aliases (`*name`)'
        : 'this entry stands nowhere in the file by itself';
      const first = 'write it out where it should differ, then';
      refused.push(...edits.map((edit): Fault => ({ edit, place: edit, why, first })));
      continue;
    }
    const there = edits.filter(({ key }) => Object.hasOwn(container, key));
    const done = splicer({
      text: document.text,
      container,
      spans,
      replaced: there.filter(({ value }) => value !== undefined),
      removed: there.filter(({ value }) => value === undefined),
      inserted: inOrder(edits.filter(({ key }) => !Object.hasOwn(container, key))),
    });
    for (const splice of done.splices) splices.push({ splice, containerStart: spans.self.start });
    for (const { edit, why = 'this entry is written in a way the program can not change' } of done.refused)
      refused.push({ edit, place: edit, why });
  }
  return { splices, refused };
}

/** What joins a list joins it in the order of its numbers. */
function inOrder(edits: readonly Edit[]): readonly Edit[] {
  return edits.toSorted((a, b) => (typeof a.key === 'number' && typeof b.key === 'number' ? a.key - b.key : 0));
}

/** A fault of the whole file, told at the first entry to change. */
function whole(edits: readonly Edit[], why: string): Fault | undefined {
  const [edit] = edits;
  return edit && { edit: edits.length === 1 ? edit : undefined, place: edit, why };
}

/** The text would not say what was meant: at the entry meant to change, or at one that would change with another. */
function unlike(
  document: Document,
  { container, key }: { readonly container: Container; readonly key?: string | number },
  wanted: EditsByContainer,
  edits: readonly Edit[],
): Fault | undefined {
  const edit = key === undefined ? undefined : wanted.get(container)?.get(key);
  if (edit !== undefined) return { edit, place: edit, why: 'this entry can not be changed by the program' };
  return {
    edit: edits.length === 1 ? edits[0] : undefined,
    place: key === undefined ? { document, container } : { document, container, key },
    why: 'with the new values this would not say what was meant: an anchor, a cell or a line ties it to another entry',
    first: 'write it out where it should differ, then',
  };
}

function failed(faults: readonly (Fault | undefined)[]): AppliedEdits {
  const known = faults.filter((fault) => fault !== undefined);
  const at = locateAll(known.map(({ place }) => place));
  return {
    text: undefined,
    problems: known.map(({ edit, place, why, first }) => ({ at: at(place), what: why, instead: byHand(edit, first) })),
  };
}

function byHand(edit: Edit | undefined, first: string | undefined): string {
  const start = `by hand, ${first === undefined ? '' : `${first} `}`;
  if (edit === undefined) return `${start}write the new values`;
  if (edit.value === undefined) return `${start}take \`${shortened(String(edit.key))}\` out`;
  const value = shortened((WRITERS.get(edit.document.format)?.value ?? JSON.stringify)(edit.value));
  return `${start}write \`${typeof edit.key === 'number' ? value : `${shortened(edit.key)}: ${value}`}\``;
}

function shortened(text: string): string {
  return text.length > 200 ? `${text.slice(0, 200)}…` : text;
}
