import { agree, listNames, type FindingWords, type Sender } from '../../../src/lint/rule.js';

export interface Facts {
  readonly rig: string;
  /** All families of the rig: `50`, `59.94`. */
  readonly families: readonly string[];
  /** The one fewest pictures are of. */
  readonly family: string;
  /** Pictures of it. */
  readonly senders: readonly Sender[];
}

export function words({ rig, families, family, senders }: Facts): FindingWords<string> {
  return {
    what: `rig ${rig} has pictures of the ${listNames(families)} Hz families, ${listNames(senders.map(({ label }) => label))} of the ${family} Hz one, and no device that takes one and sends the other`,
    onAir:
      'cut straight into the others such a picture jumps, rolls or is refused, and lights of the other mains frequency flicker in it',
    fix: `set ${agree(senders.length, 'it', 'them')} to the rates of the others, or plan the converter with what it takes and sends`,
    label: (name, own) => `${name}: ${own} Hz family`,
  };
}
