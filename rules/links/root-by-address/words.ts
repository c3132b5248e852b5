import { formatRate, type FindingWords, type Switch } from '../../../src/doors/rule.js';

export interface Facts {
  readonly root: Switch;
  readonly better: Switch;
  /** What all links of each hold together. */
  readonly rateBps: number;
  readonly betterBps: number;
}

export type Note = 'root' | 'better';

export function words({ root, better, rateBps, betterBps }: Facts): FindingWords<Note> {
  return {
    what: `no switch states a \`priority\`, so ${root.name} is the root of the spanning tree by the lowest address, with ${formatRate(rateBps)} of links; ${better.name} has ${formatRate(betterBps)}`,
    onAir: `streams between other switches run through ${root.name}, and faster links between them are blocked`,
    fix: `set \`priority: 4096\` on ${better.name}, and 8192 on the switch that is to take over`,
    label: (name, note) => (note === 'root' ? `${name}: the root` : `${name}: fit to be the root`),
  };
}
