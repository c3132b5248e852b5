/** Where in a tree to look for what is wanted of it: a text of a hundred thousand streams is not read again for one place. */
import type { Container } from '../source/document.js';

/**
 * Containers that are wanted or lead to one that is, no deeper than `mostDepth`. For trees whose containers stand in one
 * place each.
 */
export function waysTo(root: unknown, wanted: ReadonlySet<Container>, mostDepth: number): ReadonlySet<Container> {
  const ways = new Set<Container>();
  let left = wanted.size;
  const leads = (value: unknown, depth: number): boolean => {
    if (left === 0 || typeof value !== 'object' || value === null) return false;
    let found = wanted.has(value);
    if (found) left--;
    if (depth < mostDepth) {
      if (Array.isArray(value)) for (const item of value) found = leads(item, depth + 1) || found;
      else
        for (const key in value) found = leads((value as Readonly<Record<string, unknown>>)[key], depth + 1) || found;
    }
    if (found) ways.add(value);
    return found;
  };
  leads(root, 0);
  return ways;
}
