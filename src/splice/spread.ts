/** New mappings and lists in place of old ones, as edits of just those of their entries that differ. */
import type { Container } from '../source/document.js';
import type { Edit, EditValue } from '../edits/entry.js';
import { sameValue, type EditsByContainer } from './same-tree.js';
import { valueAt } from './splice.js';

/**
 * Whatever stays inside a value keeps its lines and comments. Parts used in several places (`shared`) are replaced as a
 * whole, and so are those with edits of their own, which contradict them.
 */
export function spreadEdits(wanted: EditsByContainer, shared: ReadonlySet<Container>): EditsByContainer {
  const spread = new Map<Container, Map<string | number, Edit>>();
  const open = [...wanted.values()].flatMap((own) => [...own.values()]);
  // What is pushed while the loop runs is looked at in its turn.
  for (const edit of open) {
    const { container, key, value } = edit;
    const old = valueAt(container, key);
    if (isAlike(old, value) && !shared.has(old) && !wanted.has(old)) {
      open.push(...innerEdits(edit, old, value));
      continue;
    }
    const own = spread.get(container);
    if (own === undefined) spread.set(container, new Map([[key, edit]]));
    else own.set(key, edit);
  }
  return spread;
}

type Inner = Readonly<Record<string | number, EditValue>>;

function isAlike(old: unknown, value: EditValue | undefined): old is Container {
  if (typeof old !== 'object' || old === null || typeof value !== 'object') return false;
  const filled = Object.keys(old).length > 0 && Object.keys(value).length > 0;
  return filled && Array.isArray(old) === Array.isArray(value);
}

function innerEdits({ document }: Edit, container: Container, value: EditValue | undefined): readonly Edit[] {
  const inner = value as Inner;
  const names = new Set([...Object.keys(container), ...Object.keys(inner)]);
  return [...names].flatMap((name): readonly Edit[] => {
    const key = Array.isArray(container) ? Number(name) : name;
    const now = Object.hasOwn(inner, name) ? inner[name] : undefined;
    return sameValue(valueAt(container, key), now) ? [] : [{ document, container, key, value: now }];
  });
}
