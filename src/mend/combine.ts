/** Edits of several cures made together: whole cures, in their order, each only where it contradicts none before it. */
import type { Container } from '../source/document.js';
import type { Edit } from '../edits/entry.js';
import { sameValue } from '../splice/same-tree.js';

export interface Combined<T> {
  readonly edits: readonly Edit[];
  readonly taken: readonly T[];
  /** Cures left out, and the one that wants another value for one of their entries. */
  readonly clashes: readonly { readonly of: T; readonly with: T }[];
}

export function combine<T extends { readonly edits: readonly Edit[] }>(cures: readonly T[]): Combined<T> {
  const known = new Map<Container, Map<string | number, { readonly edit: Edit; readonly of: T }>>();
  const added = new Map<Container, { readonly edit: Edit; readonly of: T }[]>();
  const taken: T[] = [];
  const clashes: { readonly of: T; readonly with: T }[] = [];
  for (const cure of cures) {
    const other = cure.edits
      .filter((edit) => !isAdded(edit))
      .map(({ container, key, value }) => ({ value, was: known.get(container)?.get(key) }))
      .find(({ value, was }) => was !== undefined && !sameValue(was.edit.value, value))?.was?.of;
    if (other !== undefined) {
      clashes.push({ of: cure, with: other });
      continue;
    }
    taken.push(cure);
    for (const edit of cure.edits) {
      const { container, key } = edit;
      if (isAdded(edit)) {
        const list = added.get(container) ?? [];
        added.set(container, list);
        // What two cures add alike is one entry.
        if (!list.some((one) => one.of !== cure && sameValue(one.edit.value, edit.value)))
          list.push({ edit, of: cure });
        continue;
      }
      let own = known.get(container);
      if (own === undefined) known.set(container, (own = new Map<string | number, { edit: Edit; of: T }>()));
      if (!own.has(key)) own.set(key, { edit, of: cure });
    }
  }
  const edits = [...known.values()].flatMap((own) => [...own.values()].map(({ edit }) => edit));
  for (const [container, list] of added) {
    const { length } = container as readonly unknown[];
    list.forEach(({ edit }, index) => edits.push({ ...edit, key: length + index }));
  }
  return { edits, taken, clashes };
}

/** An element that joins a list at its end. */
function isAdded({ container, key }: Edit): boolean {
  return Array.isArray(container) && typeof key === 'number' && key >= container.length;
}
