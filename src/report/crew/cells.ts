/** What several sheets say alike. */
import { byLabel } from '../../collections/order.js';
import { listNames } from '../../words/lists.js';
import type { Plan, Rig } from '../../plan/types.js';
import { formatAddress, type Address } from '../../values/address.js';
import type { SheetColumn } from './sheet.js';

/** Names in one cell; a spreadsheet cell ends at 32767 characters. */
export const MOST_NAMES = 50;

/** The first column where a plan joins rigs. */
export function rigColumn<Row>({ rigs }: Plan, rigOf: (row: Row) => Rig | undefined): SheetColumn<Row> {
  const several = rigs.length > 1;
  return { heading: 'rig', cell: (row) => (several ? rigOf(row)?.name : undefined), ifFilled: true };
}

export function addressCell(address: Address | undefined): string | undefined {
  return address === undefined ? undefined : formatAddress(address);
}

/** `10.20.10.11/24`, or the address alone where no prefix length is known. */
export function addressWithPrefix(address: Address | undefined, length: number | undefined): string | undefined {
  if (address === undefined) return undefined;
  return length === undefined ? formatAddress(address) : `${formatAddress(address)}/${length}`;
}

export function gigabits(rateBps: number | undefined): number | undefined {
  return rateBps === undefined ? undefined : rateBps / 1e9;
}

/** Names in their order, each once, no more than a cell holds. */
export function namesCell(names: readonly string[]): string {
  return listNames(
    byLabel([...new Set(names)], (name) => name),
    MOST_NAMES,
  );
}
