/** Parts of a tree that stand at more than one place of it. */

/** Containers that more than one path leads to. */
export function sharedContainers(root: unknown): ReadonlySet<object> {
  const seen = new Set<object>();
  const shared = new Set<object>();
  const stack: unknown[] = [root];
  while (stack.length > 0) {
    const value = stack.pop();
    if (!isContainer(value)) continue;
    if (seen.has(value)) {
      shared.add(value);
      continue;
    }
    seen.add(value);
    for (const inner of entriesOf(value)) if (isContainer(inner)) stack.push(inner);
  }
  // What lies inside a shared container is shared too.
  const open = [...shared];
  for (let value = open.pop(); value !== undefined; value = open.pop()) {
    for (const inner of entriesOf(value)) {
      if (!isContainer(inner) || shared.has(inner)) continue;
      shared.add(inner);
      open.push(inner);
    }
  }
  return shared;
}

function entriesOf(value: object): readonly unknown[] {
  return Array.isArray(value) ? (value as readonly unknown[]) : Object.values(value);
}

function isContainer(value: unknown): value is object {
  return typeof value === 'object' && value !== null;
}
