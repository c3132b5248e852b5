/** More ports than any switch has: a range past this is a slip. */
export const MOST_PORTS = 2048;

/** `1-4` is four ports, `1/1-4` too; a name that merely ends in digits is one. Undefined for a backward or huge range. */
export function portNames(text: string): readonly string[] | undefined {
  const match = /^(.*?)(\d+)-(\d+)$/.exec(text);
  if (match === null) return [text];
  const [, stem = '', low = '', high = ''] = match;
  const first = Number(low);
  const last = Number(high);
  if (last < first || last - first >= MOST_PORTS) return undefined;
  return Array.from({ length: last - first + 1 }, (_, index) => `${stem}${first + index}`);
}
