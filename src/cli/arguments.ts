/** Values of options, or how to write them. */
import { InvalidArgumentError } from 'commander';

export function dateArgument(value: string): string {
  const time = /^\d{4}-\d{2}-\d{2}$/.test(value) ? Date.parse(`${value}T00:00:00Z`) : Number.NaN;
  if (Number.isNaN(time)) throw new InvalidArgumentError('Write a date as YYYY-MM-DD.');
  return value;
}

export function widthArgument(value: string): number {
  const columns = Number(value);
  if (!Number.isInteger(columns) || columns < 40 || columns > 1000)
    throw new InvalidArgumentError('Write a number of columns from 40 to 1000.');
  return columns;
}

export function headroomArgument(value: string): number {
  const percent = value.trim() === '' ? Number.NaN : Number(value);
  if (!(percent >= 0 && percent < 100)) throw new InvalidArgumentError('Write a percentage from 0 to less than 100.');
  return percent;
}

/** Octets, as `512M` or `1G`; the letters count by thousands. */
export function sizeArgument(value: string): number {
  const [, number = '', unit = ''] = /^(\d+(?:\.\d+)?)([kMG]?)$/.exec(value) ?? [];
  const octets = Math.round(Number(number) * { '': 1, k: 1e3, M: 1e6, G: 1e9 }[unit as '' | 'k' | 'M' | 'G']);
  if (number === '' || octets < 1 || octets > MOST_OCTETS)
    throw new InvalidArgumentError('Write a size such as 512M, at most 2G.');
  return octets;
}

/** More than the system reads in one piece. */
const MOST_OCTETS = 2e9;
