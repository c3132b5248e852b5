/** Collects what entries of the plans are to say from now on. */
import type { Edit, EditValue } from '../../splice/edit.js';
import { placeOf } from '../../plan/place.js';
import type { Entity } from '../../plan/types.js';

export interface EditList {
  /** An entity's own entry says the value from now on, where a kind may have said another one before. */
  readonly set: (entity: Entity, key: string, value: EditValue) => void;
  /** True when an entry of the entity, or of the kind it comes from, says something under the key. */
  readonly says: (entity: Entity, key: string) => boolean;
  /** In the order they were first set; the last value of an entry counts. */
  readonly all: () => readonly Edit[];
}

export function createEditList(): EditList {
  const byContainer = new Map<object, Map<string | number, Edit>>();
  const order: { readonly container: object; readonly key: string | number }[] = [];
  return {
    set: (entity, key, value) => {
      // What the kind says stays: other devices are of that kind too.
      const { document, container } = entity.origin;
      let own = byContainer.get(container);
      if (own === undefined) byContainer.set(container, (own = new Map<string | number, Edit>()));
      if (!own.has(key)) order.push({ container, key });
      own.set(key, { document, container, key, value });
    },
    says: (entity, key) => placeOf(entity, key).key !== undefined,
    all: () => order.flatMap(({ container, key }) => byContainer.get(container)?.get(key) ?? []),
  };
}
