/** The rigs that meet: one side each, with a name nobody else has. */
import { loadDocuments } from '../plan/load.js';
import { resolvePlan, type Resolved } from '../plan/resolve/index.js';
import type { Input } from '../read/index.js';
import type { Document } from '../source/document.js';
import type { Problem } from '../source/problem.js';

/** What a caller gives: the inputs of one rig, and what to call it where they name none. */
export interface SideInput {
  /** Where it comes from, for messages and as a name of last resort: `plans/heron`. */
  readonly from: string;
  readonly inputs: readonly Input[];
}

export interface Side {
  /** Name of the rig, different from that of every other side. */
  readonly name: string;
  readonly from: string;
  readonly documents: readonly Document[];
}

export interface Sides {
  /** In order of name, so that the order of arguments changes nothing. */
  readonly sides: readonly Side[];
  readonly problems: readonly Problem[];
}

/** Reads the sides. A side whose files name two rigs is refused: nobody could tell which of them meets whom. */
export function readSides(given: readonly SideInput[]): Sides {
  const problems: Problem[] = [];
  const read = given.map(({ from, inputs }) => {
    const { documents, problems: faults } = loadDocuments(inputs);
    problems.push(...faults);
    const names = new Set(documents.flatMap((document) => rigOf(document) ?? []));
    if (names.size > 1) problems.push(severalRigs(from, documents, [...names]));
    const [name = fileName(from)] = names;
    return { from, documents, name };
  });
  const counts = new Map<string, number>();
  for (const { name } of read) counts.set(name, (counts.get(name) ?? 0) + 1);
  const taken = new Set<string>();
  const sides = read.map((side) => {
    const apart = (counts.get(side.name) ?? 0) > 1;
    let name = apart ? `${side.name} (${fileName(side.from)})` : side.name;
    for (let number = 2; taken.has(name); number++) name = `${side.name} (${number})`;
    taken.add(name);
    return { ...side, name };
  });
  return { sides: sides.sort((a, b) => (a.name < b.name ? -1 : a.name > b.name ? 1 : 0)), problems };
}

/** All sides and what joins them as one plan; each side alone without `joining`. */
export function resolveSides(sides: readonly Side[], joining: readonly Document[] = []): Resolved {
  const names = new Map<Document, string>();
  for (const side of sides) for (const document of side.documents) names.set(document, side.name);
  for (const document of joining) names.set(document, rigOf(document) ?? JOINING);
  return resolvePlan([...sides.flatMap(({ documents }) => documents), ...joining], names);
}

/** What the joined rig is called where nobody says. */
export const JOINING = 'both rigs';

/** The last part of a path, as far as a name of the plan may hold it. */
function fileName(from: string): string {
  const last = from.split(/[/\\]/).findLast((part) => part !== '' && part !== '.' && part !== '..') ?? from;
  const plain = last.replace(/\.[a-z0-9]+$/i, '').replace(/[\u0000-\u001f\u007f-\u009f/]/g, '');
  return plain === '' ? 'rig' : plain.slice(0, 100);
}

function rigOf(document: Document): string | undefined {
  return (document.value as { readonly rig?: string }).rig;
}

function severalRigs(from: string, documents: readonly Document[], names: readonly string[]): Problem {
  const second = documents.find((document) => (rigOf(document) ?? names[0]) !== names[0]);
  return {
    at: { file: second?.name ?? from, line: 1, column: 1, endLine: 1, endColumn: 1 },
    what: `${from} holds the plans of ${names.length} rigs: ${names.join(', ')}`,
    instead: 'give each rig as an argument of its own: a folder or a file for each',
  };
}
