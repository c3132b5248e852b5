/** Whether a fault that is found alone is found beside another one too. */
import { RULES } from '../../rules/index.js';
import type { Finding, LabelledLocation } from '../../src/lint/finding.js';
import { lintInputs } from '../../src/lint/lint.js';
import { touchAlike, withSlips, type PlacedSlip, type TreePath } from './placed-slips.js';

const TODAY = '2026-06-01';

/** What lint says of a tree, with its places by what stands there rather than by lines, which slips move. */
export interface Placed {
  readonly finding: Finding;
  /** The place to change first, and all places. */
  readonly at: string;
  readonly places: readonly string[];
}

/** Undefined where a part could not be read, so that nothing is judged. */
export function placed(tree: unknown): readonly Placed[] | undefined {
  const { findings, problems } = lintInputs([{ name: 'plan.json', text: JSON.stringify(tree, undefined, 1) }], RULES, {
    today: TODAY,
  });
  if (problems.length > 0) return undefined;
  const lines: string[] = [];
  nameLines(tree, '', lines);
  const nameOf = ({ line }: LabelledLocation): string => lines[line - 1] ?? String(line);
  return findings.map((finding) => ({
    finding,
    at: nameOf(finding.at),
    places: [finding.at, ...finding.others].map(nameOf),
  }));
}

/** The entry each line of the text begins, as `JSON.stringify` lays it out. */
function nameLines(value: unknown, name: string, lines: string[]): void {
  if (typeof value !== 'object' || value === null) {
    // A value stands for the record or list it is in.
    lines.push(name.slice(0, name.lastIndexOf('/')));
    return;
  }
  lines.push(name);
  const entries = Array.isArray(value)
    ? value.map((one: unknown, index) => [nameIn(one) ?? `#${index}`, one] as const)
    : Object.entries(value);
  for (const [key, inner] of entries) nameLines(inner, `${name}/${key}`, lines);
  if (entries.length > 0) lines.push(name);
}

/** The name of the record or list that an entry is in. */
function nameOfHolder(tree: unknown, path: TreePath): string {
  let at = tree;
  let name = '';
  for (const key of path.slice(0, -1)) {
    at = (at as Record<string | number, unknown>)[key];
    name += `/${typeof key === 'number' ? (nameIn(at) ?? `#${key}`) : key}`;
  }
  return name;
}

function nameIn(value: unknown): string | undefined {
  if (typeof value !== 'object' || value === null) return undefined;
  const { name } = value as { readonly name?: unknown };
  return typeof name === 'string' || typeof name === 'number' ? String(name) : undefined;
}

/** A slip that is found, and what is found of it: by findings that name an entry it changed, else by all. */
export interface FoundSlip {
  readonly slip: PlacedSlip;
  readonly own: readonly Placed[];
}

/** So many slips of a sound tree that lint judges and finds. */
export function foundSlips(tree: unknown, next: () => PlacedSlip | undefined, count: number): readonly FoundSlip[] {
  const found: FoundSlip[] = [];
  for (let tries = 0; found.length < count && tries < count * MOST_TRIES; tries++) {
    const slip = next();
    if (slip === undefined) continue;
    const made = withSlips(tree, [slip]);
    const all = placed(made) ?? [];
    if (all.length === 0) continue;
    const changed = new Set(slip.sets.map(({ path }) => nameOfHolder(made, path)));
    const own = all.filter(({ places }) => places.some((place) => changed.has(place)));
    found.push({ slip, own: own.length === 0 ? all : own });
  }
  return found;
}

const MOST_TRIES = 50;

/** What is found is known by its rule and subject, or any finding that names its place leads there too. */
function isFound({ finding, at }: Placed, among: readonly Placed[]): boolean {
  return among.some(
    ({ finding: other, places }) =>
      (other.rule === finding.rule && other.subject === finding.subject) || places.includes(at),
  );
}

export interface Hidden {
  readonly own: FoundSlip;
  readonly beside: FoundSlip;
}

/** Slips of two of which nothing is found beside the other; undefined where they are no two, or nothing is judged. */
export function hiddenIn(tree: unknown, a: FoundSlip, b: FoundSlip): readonly Hidden[] | undefined {
  if (touchAlike(a.slip, b.slip)) return undefined;
  const both = placed(withSlips(tree, [a.slip, b.slip]));
  if (both === undefined) return undefined;
  return [
    { own: a, beside: b },
    { own: b, beside: a },
  ].filter(({ own }) => !own.own.some((one) => isFound(one, both)));
}
