/**
 * Whether a tree, its shared parts counted every time they are used, has more than `limit` containers. Shared parts
 * are measured once, so a small file that stands for a huge tree is found out in linear time.
 */
export function expandsPast(root: unknown, limit: number): boolean {
  const sizes = new Map<object, number>();
  const open = new Set<object>();
  const stack: { readonly node: object; readonly children: readonly object[]; next: number; size: number }[] = [];
  if (!isContainer(root)) return false;
  push(root);
  while (true) {
    const frame = stack.at(-1);
    if (frame === undefined) return (sizes.get(root) ?? 0) > limit;
    const child = frame.children[frame.next++];
    if (child === undefined) {
      stack.pop();
      open.delete(frame.node);
      sizes.set(frame.node, frame.size);
      const parent = stack.at(-1);
      if (parent !== undefined) parent.size += frame.size;
      if (frame.size > limit) return true;
      continue;
    }
    if (open.has(child)) return true; // an alias inside its own anchor stands for an endless tree
    const known = sizes.get(child);
    if (known === undefined) push(child);
    else frame.size += known;
  }

  function push(node: object): void {
    open.add(node);
    stack.push({ node, children: Object.values(node).filter(isContainer), next: 0, size: 1 });
  }
}

function isContainer(value: unknown): value is object {
  return typeof value === 'object' && value !== null;
}
