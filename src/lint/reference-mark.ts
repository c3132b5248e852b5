import type { Unresolved } from '../plan/types.js';
import { referrerLabel } from '../words/referrers.js';
import type { Mark } from './finding.js';

/** Where a name that leads nowhere is written. */
export function referenceMark({ origin, key, by }: Unresolved): Mark<never> {
  const place = { document: origin.document, container: origin.container };
  return { place: Object.hasOwn(origin.container, key) ? { ...place, key } : place, label: referrerLabel(by) };
}
