/** Collects what entries of the plans are to say from now on. */
import type { Edit, EditValue } from './entry.js';
import { placeOf } from '../plan/place.js';
import type { Entity } from '../plan/types.js';
import type { Container, Document, Place } from '../source/document.js';

export interface EditList {
  /** An entity's own entry says the value from now on, where a kind may have said another one before. */
  readonly set: (entity: Entity, key: string, value: EditValue) => void;
  /** Wherever the value is written, the entry of a kind too: it is another one from now on, for all who have it from there. */
  readonly setWhereWritten: (entity: Entity, key: string, value: EditValue) => void;
  /** The entity's own entry, or that of its kind, no longer says anything under the key. */
  readonly remove: (entity: Entity, key: string) => void;
  /** An element of a list that stands under a key; a list is made where there is none. */
  readonly append: (entity: Entity, key: string, value: EditValue) => void;
  /** A value at a place of a document's tree; undefined takes it out. */
  readonly put: (place: Place, value: EditValue | undefined) => void;
  /** True when an entry of the entity, or of the kind it comes from, says something under the key. */
  readonly says: (entity: Entity, key: string) => boolean;
  /** In the order they were first set; the last value of an entry counts, and one that is there already is none. */
  readonly all: () => readonly Edit[];
}

export function createEditList(): EditList {
  const byContainer = new Map<Container, Map<string | number, Edit>>();
  const order: { readonly container: Container; readonly key: string | number }[] = [];

  function write(document: Document, container: Container, key: string | number, value: EditValue | undefined): void {
    let own = byContainer.get(container);
    if (own === undefined) byContainer.set(container, (own = new Map<string | number, Edit>()));
    if (!own.has(key)) order.push({ container, key });
    own.set(key, { document, container, key, value });
  }

  function put({ document, container, key }: Place, value: EditValue | undefined): void {
    if (key !== undefined) write(document, container, key, value);
  }

  return {
    set: (entity, key, value) => {
      // What the kind says stays: other devices are of that kind too.
      const { document, container } = entity.origin;
      write(document, container, key, value);
    },
    setWhereWritten: (entity, key, value) => {
      put({ key, ...placeOf(entity, key) }, value);
    },
    remove: (entity, key) => {
      put(placeOf(entity, key), undefined);
    },
    append: (entity, key, value) => {
      const at = placeOf(entity, key);
      const list = at.key === undefined ? undefined : entryOf(at.container, at.key);
      if (!Array.isArray(list)) {
        const { document, container } = entity.origin;
        const before = byContainer.get(container)?.get(key)?.value;
        write(document, container, key, [...(Array.isArray(before) ? (before as readonly EditValue[]) : []), value]);
        return;
      }
      let end = list.length;
      while (byContainer.get(list)?.has(end) === true) end++;
      write(at.document, list, end, value);
    },
    put,
    says: (entity, key) => placeOf(entity, key).key !== undefined,
    all: () =>
      order.flatMap(({ container, key }) => {
        const edit = byContainer.get(container)?.get(key);
        // What says it already is no work for anybody.
        return edit === undefined || (edit.value !== undefined && edit.value === entryOf(container, key)) ? [] : [edit];
      }),
  };
}

function entryOf(container: Container, key: string | number): unknown {
  return (container as Readonly<Record<string | number, unknown>>)[key];
}
