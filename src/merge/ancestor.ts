/**
 * Plans that come from one: an entry all of them have from their ancestor is one thing, not a clash. Where one side has
 * changed it, that side's counts; where several have, each differently, somebody has to decide.
 */
import { addTo } from '../collections/group-by.js';
import type { Document } from '../source/document.js';
import { locateAll } from '../source/locate.js';
import type { Place } from '../source/document.js';
import type { Problem } from '../source/problem.js';
import type { Side } from './sides.js';

export interface Shared {
  /** The sides, each shared entry left to one of them. */
  readonly sides: readonly Side[];
  readonly problems: readonly Problem[];
}

/** A document of which some entries are left to another side: `whole` is what the file really says. */
interface PartOfDocument extends Document {
  readonly whole: Document;
  /** Keys of the entries left out. */
  readonly dropped: ReadonlySet<string>;
}

/** What stands in the file. */
export function wholeOf(document: Document): Document {
  return isPart(document) ? document.whole : document;
}

/** A document read anew, without the entries that were left out before. */
export function partLike(before: Document, now: Document): Document {
  return isPart(before) ? without(now, before.dropped) : now;
}

/** Whether a document leaves an entry to another side. */
export function leavesOut(document: Document, list: string, name: string): boolean {
  return isPart(document) && isList(list) && document.dropped.has(keyOf(list, name));
}

function isPart(document: Document): document is PartOfDocument {
  return 'whole' in document;
}

const LISTS = ['networks', 'vlans', 'switches', 'links', 'formats', 'kinds', 'devices', 'streams'] as const;
type List = (typeof LISTS)[number];

interface Written {
  readonly document: Document;
  readonly entry: object;
  readonly text: string;
}

export function dropShared(sides: readonly Side[], ancestor: readonly Document[]): Shared {
  if (ancestor.length === 0) return { sides, problems: [] };
  const origin = entriesOf(ancestor);
  const written = sides.map(({ documents }) => entriesOf(documents));
  const dropped = new Map<Document, Set<string>>();
  const faults: { readonly place: Place; readonly what: string }[] = [];
  for (const [key, old] of origin) {
    const own = written.map((entries) => entries.get(key));
    const changed = own.filter((one): one is Written => one !== undefined && one.text !== old.text);
    const [first, ...rest] = changed;
    const other = rest.find((one) => one.text !== first?.text);
    if (first !== undefined && other !== undefined) {
      const at = locateAll([{ document: first.document, container: first.entry }]);
      const { file, line, column } = at({ document: first.document, container: first.entry });
      faults.push({
        place: { document: other.document, container: other.entry },
        what: `${key.replace('\n', ' ')} comes from the ancestor and has been changed differently here and at ${file} ${line}:${column}`,
      });
      continue;
    }
    const stays = first ?? own.find((one) => one !== undefined);
    for (const one of own) {
      if (one === undefined || one === stays) continue;
      addTo(dropped, one.document, key);
    }
  }
  const at = locateAll(faults.map(({ place }) => place));
  return {
    sides: sides.map((side) => ({
      ...side,
      documents: side.documents.map((document) => without(document, dropped.get(document) ?? NONE)),
    })),
    problems: faults.map(({ place, what }) => ({
      at: at(place),
      what,
      instead: 'agree on one of the two and write it on both sides',
    })),
  };
}

/** Every named entry of the lists, by what it is and its name; links by their ends where they have no name. */
function entriesOf(documents: readonly Document[]): ReadonlyMap<string, Written> {
  const found = new Map<string, Written>();
  for (const document of documents) {
    for (const list of LISTS) {
      for (const entry of listOf(document, list)) {
        const key = keyOf(list, nameOf(entry));
        if (!found.has(key)) found.set(key, { document, entry, text: canonical(entry) });
      }
    }
  }
  return found;
}

const WORDS: Readonly<Record<List, string>> = {
  networks: 'network',
  vlans: 'VLAN',
  switches: 'switch',
  links: 'link',
  formats: 'format',
  kinds: 'kind',
  devices: 'device',
  streams: 'stream',
};

function listOf(document: Document, list: List): readonly object[] {
  const value = (document.value as Readonly<Record<string, unknown>>)[list];
  return Array.isArray(value) ? (value as readonly object[]) : [];
}

const NONE: ReadonlySet<string> = new Set();

function keyOf(list: List, name: string): string {
  return `${WORDS[list]}\n${name}`;
}

/** Links go by their ends where they have no name. */
function nameOf(entry: object): string {
  const { name, ends } = entry as { readonly name?: string; readonly ends?: readonly string[] };
  return name ?? (ends === undefined ? '' : [...ends].sort().join(' to '));
}

function isList(text: string): text is List {
  return Object.hasOwn(WORDS, text);
}

/** The document without some entries of its lists; what stays keeps its places. */
function without(document: Document, dropped: ReadonlySet<string>): Document {
  if (dropped.size === 0) return document;
  const value: Record<string, unknown> = { ...(document.value as object) };
  for (const list of LISTS) {
    if (value[list] !== undefined)
      value[list] = listOf(document, list).filter((entry) => !dropped.has(keyOf(list, nameOf(entry))));
  }
  const part: PartOfDocument = { ...document, value, whole: document, dropped };
  return part;
}

/** Equal for entries that say the same, in whatever order their keys are. */
function canonical(value: unknown): string {
  return JSON.stringify(value, (_, inner: unknown) =>
    typeof inner === 'object' && inner !== null && !Array.isArray(inner)
      ? Object.fromEntries(Object.entries(inner).sort(([a], [b]) => (a < b ? -1 : a > b ? 1 : 0)))
      : inner,
  );
}
