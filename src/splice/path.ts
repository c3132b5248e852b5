/** Addresses of entries that stay when other lines come and go: names where entries have them. */
import type { Container, Document } from '../source/document.js';

/** A key of a mapping, the name of a list's entry that no other entry of the list has, or its number from 0. */
export type PathStep = string | number | { readonly name: string };
export type Path = readonly PathStep[];

/** An entry of a container. */
export interface EntryPlace {
  readonly container: Container;
  readonly key: string | number;
}

/** Where each name stands that a list has once; what was learnt of lists is kept from one path to the next. */
export type ListNames = Map<Container, ReadonlyMap<string, number>>;

/**
 * Paths of entries of a document, in their order; one walk however many are asked for. Undefined for an entry of a
 * container that is not in the document. A container with several places goes by the first of them.
 */
export function pathsOf(document: Document, places: readonly EntryPlace[]): readonly (Path | undefined)[] {
  const wanted = new Set(places.map(({ container }) => container));
  const found = new Map<Container, Path>();
  const seen = new Set<Container>();
  const names: ListNames = new Map();
  const stack: Visit[] = [{ value: document.value, step: undefined, parent: undefined }];
  for (let visit = stack.pop(); visit !== undefined && found.size < wanted.size; visit = stack.pop()) {
    const { value } = visit;
    if (!isContainer(value) || seen.has(value)) continue;
    seen.add(value);
    if (wanted.has(value)) found.set(value, stepsTo(visit));
    // Last first, so that the stack gives back the first one first.
    const keys = Array.isArray(value) ? undefined : Object.keys(value);
    for (let at = (keys ?? (value as readonly unknown[])).length - 1; at >= 0; at--) {
      const key = keys?.[at] ?? at;
      const inner = (value as Readonly<Record<string | number, unknown>>)[key];
      if (isContainer(inner)) stack.push({ value: inner, step: { container: value, key }, parent: visit });
    }
  }
  return places.map((place) => {
    const path = found.get(place.container);
    return path && [...path, stepOf(place, names)];
  });

  function stepsTo(visit: Visit): Path {
    const steps: PathStep[] = [];
    for (let at: Visit | undefined = visit; at?.step !== undefined; at = at.parent) steps.push(stepOf(at.step, names));
    return steps.reverse();
  }
}

interface Visit {
  readonly value: unknown;
  readonly step: EntryPlace | undefined;
  readonly parent: Visit | undefined;
}

/** What a path leads to: its container and key. The entry itself need not be there; its container does. */
export function findPath(document: Document, path: Path, seen: ListNames): EntryPlace | undefined {
  let value: unknown = document.value;
  for (const [index, step] of path.entries()) {
    if (!isContainer(value)) return undefined;
    const key = keyIn(value, step, seen);
    if (key === undefined) return undefined;
    if (index === path.length - 1) return { container: value, key };
    value = Object.hasOwn(value, key) ? (value as Readonly<Record<string | number, unknown>>)[key] : undefined;
  }
  return undefined;
}

function stepOf({ container, key }: EntryPlace, seen: ListNames): PathStep {
  if (!Array.isArray(container)) return key;
  const name = nameOf((container as readonly unknown[])[Number(key)]);
  return name !== undefined && namesIn(container, seen).get(name) === key ? { name } : key;
}

function keyIn(container: object, step: PathStep, seen: ListNames): string | number | undefined {
  if (!Array.isArray(container)) return typeof step === 'string' ? step : undefined;
  if (typeof step === 'object') return namesIn(container, seen).get(step.name);
  return typeof step === 'number' ? step : undefined;
}

function namesIn(list: readonly unknown[], seen: ListNames): ReadonlyMap<string, number> {
  let names = seen.get(list);
  if (names === undefined) seen.set(list, (names = uniqueNames(list)));
  return names;
}

function uniqueNames(list: readonly unknown[]): ReadonlyMap<string, number> {
  const names = new Map<string, number>();
  const double = new Set<string>();
  list.forEach((inner, index) => {
    const name = nameOf(inner);
    if (name === undefined) return;
    if (names.has(name)) double.add(name);
    names.set(name, index);
  });
  for (const name of double) names.delete(name);
  return names;
}

function nameOf(value: unknown): string | undefined {
  if (!isContainer(value) || !Object.hasOwn(value, 'name')) return undefined;
  const { name } = value as { readonly name?: unknown };
  return typeof name === 'string' ? name : undefined;
}

function isContainer(value: unknown): value is Container {
  return typeof value === 'object' && value !== null;
}
