import type { Place } from '../source/document.js';
import type { Entity, Origin } from './types.js';

/**
 * Where a fact of an entity was written: the entity's own entry, else the one of the kind it inherits from, else the
 * entity itself. With `item`, the element of a list: `placeOf(port, 'trunk', 2)`.
 */
export function placeOf(entity: Entity, key?: string, item?: number): Place {
  if (key === undefined) return { document: entity.origin.document, container: entity.origin.container };
  for (let origin: Origin | undefined = entity.origin; origin !== undefined; origin = origin.base) {
    const value = Object.hasOwn(origin.container, key) ? (origin.container as Record<string, unknown>)[key] : undefined;
    if (value === undefined) continue;
    if (item !== undefined && Array.isArray(value)) return { document: origin.document, container: value, key: item };
    return { document: origin.document, container: origin.container, key };
  }
  return { document: entity.origin.document, container: entity.origin.container };
}
