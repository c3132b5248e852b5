/** Why a request cannot be met, and the one change that would meet it. */

/** Where in the request: keys and indexes from its top. */
export type RequestPath = readonly (string | number)[];

/** One value of the request to write instead; `undefined` takes the entry out. */
export interface RequestChange {
  readonly path: RequestPath;
  readonly value: unknown;
  /** What to do, in words. */
  readonly words: string;
}

/** How much is missing of what. */
export interface Shortage {
  readonly of: string;
  readonly needed: number;
  readonly has: number;
}

export interface Refusal {
  readonly what: string;
  readonly at: RequestPath;
  readonly short?: Shortage;
  /** Each would do alone; those that turn out not to are dropped before anyone reads them. */
  readonly changes: readonly RequestChange[];
}

export interface Refused {
  readonly refusals: readonly Refusal[];
}

export function refused(...refusals: readonly Refusal[]): Refused {
  return { refusals };
}

export function isRefused(result: object): result is Refused {
  return 'refusals' in result;
}

/** The request with one value changed; what is not on the way to it stays the same object. */
export function withChange<T>(tree: T, { path, value }: Pick<RequestChange, 'path' | 'value'>): T {
  return changed(tree, path, value) as T;
}

function changed(tree: unknown, path: RequestPath, value: unknown): unknown {
  const [step, ...rest] = path;
  if (step === undefined) return value;
  const inner = isTree(tree) ? (tree as Readonly<Record<string | number, unknown>>)[step] : undefined;
  const next = changed(inner, rest, value);
  if (Array.isArray(tree)) {
    const index = Number(step);
    if (next === undefined) return tree.filter((_, at) => at !== index);
    return index >= tree.length ? [...(tree as readonly unknown[]), next] : tree.with(index, next);
  }
  const entries = isTree(tree) ? Object.entries(tree) : [];
  if (next === undefined) return Object.fromEntries(entries.filter(([key]) => key !== step));
  if (entries.some(([key]) => key === step))
    return Object.fromEntries(entries.map(([key, old]) => [key, key === step ? next : old]));
  return typeof step === 'number' ? [next] : { ...(isTree(tree) ? tree : {}), [step]: next };
}

function isTree(value: unknown): value is object {
  return typeof value === 'object' && value !== null;
}
