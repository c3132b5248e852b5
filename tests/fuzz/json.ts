/** Trees as plans are made of, and walking them. */
export type Json = null | boolean | number | string | readonly Json[] | JsonObject;
export interface JsonObject {
  readonly [key: string]: Json;
}

type Mutable = Json[] | Record<string, Json>;

export interface Spot {
  readonly holder: Mutable;
  readonly key: string | number;
}

/** Every entry of a tree, the outer ones first; what it names may be written to. */
export function spotsOf(tree: Json): readonly Spot[] {
  const spots: Spot[] = [];
  const open: Json[] = [tree];
  for (let one = open.pop(); one !== undefined; one = open.pop()) {
    if (one === null || typeof one !== 'object') continue;
    const holder = one as Mutable;
    for (const key of Array.isArray(holder) ? holder.keys() : Object.keys(holder)) {
      spots.push({ holder, key });
      open.push(valueAt({ holder, key }));
    }
  }
  return spots;
}

export function valueAt({ holder, key }: Spot): Json {
  return (holder as Record<string | number, Json>)[key] ?? null;
}

export function put({ holder, key }: Spot, value: Json): void {
  // Never the prototype, whatever the key is called.
  Object.defineProperty(holder, key, { value, enumerable: true, writable: true, configurable: true });
}

export function drop({ holder, key }: Spot): void {
  if (Array.isArray(holder)) holder.splice(Number(key), 1);
  else Reflect.deleteProperty(holder, key);
}

export function copyOf<T extends Json>(tree: T): T {
  return JSON.parse(JSON.stringify(tree)) as T;
}
