import { byCodeUnit } from '../collections/order.js';
import { joinWords } from './lists.js';

/**
 * Port names as a crew writes them: `1 to 4 and 9`, `1/1 to 1/8`. Numbers that follow on each other are drawn
 * together.
 */
export function portRanges(names: readonly string[]): string {
  const ports = names.map(splitName).sort((a, b) => byCodeUnit(a.stem, b.stem) || a.number - b.number);
  const runs: { first: NamedPort; last: NamedPort }[] = [];
  for (const port of ports) {
    const run = runs.at(-1);
    if (run !== undefined && run.last.stem === port.stem && port.number === run.last.number + 1) run.last = port;
    else runs.push({ first: port, last: port });
  }
  const words = runs.flatMap(({ first, last }) => {
    if (first === last) return [first.name];
    return last.number === first.number + 1 ? [first.name, last.name] : [`${first.name} to ${last.name}`];
  });
  return joinWords(words, 'and');
}

interface NamedPort {
  readonly name: string;
  readonly stem: string;
  readonly number: number;
}

function splitName(name: string): NamedPort {
  const match = /^(.*?)(\d+)$/.exec(name);
  return { name, stem: match?.[1] ?? name, number: match === null ? Number.NaN : Number(match[2]) };
}
