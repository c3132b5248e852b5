import { agree, listNames, type FindingWords, type Sender } from '../../../src/doors/rule.js';
import type { FrameFamily } from '../../../src/doors/delay.js';

export interface Facts {
  readonly rig: string;
  readonly families: readonly FrameFamily[];
  /** The family with the fewest streams. */
  readonly odd: FrameFamily;
  /** The streams of that family. */
  readonly senders: readonly Sender[];
}

export function words({ rig, families, odd, senders }: Facts): FindingWords<'odd'> {
  return {
    what:
      `rig ${rig} has pictures of the ${listNames(families)} Hz families, ` +
      `${listNames(senders.map(({ label }) => label))} of the ${odd} Hz one, and no device that takes one and sends the other`,
    onAir:
      'cut straight into the others such a picture jumps, rolls or is refused, and lights of the other mains frequency flicker in it',
    fix: `set ${agree(senders.length, 'it', 'them')} to the rates of the others, or plan the converter with what it takes and sends`,
    label: (name) => `${name}: ${odd} Hz family`,
  };
}
