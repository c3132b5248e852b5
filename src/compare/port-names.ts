/** Names of ports that are treated alike, said shortly. */
import { NATURAL } from './facts.js';

/** `1-8, 12, uplink`: numbers that follow each other become a range. */
export function portRanges(names: readonly string[]): string {
  const runs: { prefix: string; first: number; last: number; text: string }[] = [];
  for (const name of [...names].sort(NATURAL.compare)) {
    const match = /^(.*?)(0|[1-9]\d{0,8})$/s.exec(name);
    const prefix = match?.[1] ?? name;
    const number = match === null ? Number.NaN : Number(match[2]);
    const run = runs.at(-1);
    if (run?.prefix === prefix && run.last + 1 === number) run.last = number;
    else runs.push({ prefix, first: number, last: number, text: name });
  }
  return runs.map(({ first, last, text }) => (first < last ? `${text}-${last}` : text)).join(', ');
}
