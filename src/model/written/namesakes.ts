/** Names that share their look or their spelling. */
import { append } from '../../collections/group-by.js';
import type { NonEmpty } from '../../collections/non-empty.js';
import { lookOf, spellingOf } from './look-alike.js';

/** Sets of two names and more that share their spelling or their look, each set once. */
export function namesakes(names: readonly string[]): readonly NonEmpty<string>[] {
  const found: NonEmpty<string>[] = [];
  const together = new Map<string, ReadonlySet<string>>();
  for (const keyOf of [spellingOf, lookOf]) {
    const byKey = new Map<string, [string, ...string[]]>();
    for (const name of names) append(byKey, keyOf(name), name);
    for (const group of byKey.values()) {
      const known = together.get(group[0]);
      if (group.length < 2 || (known !== undefined && group.every((name) => known.has(name)))) continue;
      const set = new Set(group);
      for (const name of group) together.set(name, set);
      found.push(group);
    }
  }
  return found;
}

/** Signs outside ASCII that some of the names have and others have not, by their code: they can't be told on a screen. */
export function oddSigns(names: readonly string[]): readonly string[] {
  const signs = new Set(
    names
      .flatMap((name) => Array.from(name))
      .filter((sign) => (sign.codePointAt(0) ?? 0) > 0x7e && !names.every((name) => name.includes(sign))),
  );
  return [...signs].map((sign) => `U+${(sign.codePointAt(0) ?? 0).toString(16).toUpperCase().padStart(4, '0')}`).sort();
}
