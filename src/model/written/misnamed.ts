/** An entry of a device that has another name than the one its kind asks for there: what it leaves out is under that name. */
import type { Device, Entity, Kind } from '../../plan/types.js';
import type { EntryList } from './not-in-kind.js';

export interface Misnamed {
  readonly entry: Entity['origin']['container'];
  readonly name: string;
  /** What the kind calls it. */
  readonly meant: string;
}

/**
 * The one entry of a device's list that has to be called `missing`, so that its entries are those of its kind, each once: the
 * only one the kind does not know, or of two with one name the one whose place in the kind's order the missing name has.
 * Undefined where none is, or several may be.
 */
export function misnamed(device: Device, kind: Kind, list: EntryList, missing: string): Misnamed | undefined {
  const own = entriesOf(device.origin.container, list);
  const inKind = new Map(entriesOf(kind.origin.container, list).map(({ name }, index) => [name, index]));
  if (own.length === 0 || !inKind.has(missing) || own.some(({ name }) => name === missing)) return undefined;
  const odd = own.filter(({ name }) => !inKind.has(name));
  const twice = own.filter(({ name }, index) => own.some((one, at) => one.name === name && at !== index));
  const [only] = odd;
  if (only !== undefined)
    return odd.length === 1 && twice.length === 0 ? { entry: only, name: only.name, meant: missing } : undefined;
  if (twice.length !== 2) return undefined;
  const fits = twice.filter((entry) =>
    isAscending(own.map((one) => inKind.get(one === entry ? missing : one.name) ?? -1)),
  );
  const [fitting, ...others] = fits;
  return fitting === undefined || others.length > 0
    ? undefined
    : { entry: fitting, name: fitting.name, meant: missing };
}

interface Entry {
  readonly name: string;
}

function entriesOf(container: Entity['origin']['container'], list: EntryList): readonly Entry[] {
  return (container as { readonly [list in EntryList]?: readonly Entry[] })[list] ?? [];
}

function isAscending(numbers: readonly number[]): boolean {
  return numbers.every((one, index) => index === 0 || one > (numbers[index - 1] ?? -1));
}

/** Of entries that share a name, the one that has to be called as the only thing the device leaves out of its kind. */
export function misnamedTwin(device: Device, list: EntryList, name: string): Misnamed | undefined {
  const { kind } = device;
  if (kind === undefined) return undefined;
  const [found, ...others] = entriesOf(kind.origin.container, list).flatMap(
    (one) => misnamed(device, kind, list, one.name) ?? [],
  );
  return found?.name === name && others.length === 0 ? found : undefined;
}
