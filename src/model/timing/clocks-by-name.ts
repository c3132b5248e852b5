import type { NonEmpty } from '../../collections/non-empty.js';
import { byLabel } from '../../collections/order.js';
import type { Rig } from '../../plan/types.js';

export interface NamedClock {
  readonly name: string;
  readonly rig: Rig;
}

/** Clocks in the order of their names. */
export function clocksByName<T extends NamedClock>(clocks: NonEmpty<T>): NonEmpty<T>;
export function clocksByName<T extends NamedClock>(clocks: readonly T[]): readonly T[];
export function clocksByName<T extends NamedClock>(clocks: readonly T[]): readonly T[] {
  return byLabel(clocks, ({ name, rig }) => `${name} ${rig.name}`);
}
