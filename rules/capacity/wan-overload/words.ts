import { formatRate, type FindingWords, carrierWords } from '../../../src/doors/rule.js';
import {
  burdenWords,
  leaving,
  fillWords,
  loadWords,
  rateLabel,
  strayWords,
  type FullLinkFacts,
  type RateNote,
} from '../../../src/doors/capacity.js';

export type Facts = FullLinkFacts;

export function words(facts: Facts): FindingWords<RateNote> {
  const { links, loadBps, rateBps, burden, chosen } = facts;
  return {
    what: `${carrierWords(links)}, ${formatRate(rateBps)} contracted, ${loadWords(facts)}, ${fillWords(facts)}: ${burdenWords(burden, chosen)}`,
    onAir:
      loadBps > rateBps
        ? 'the provider drops what exceeds the contracted rate, from any stream and without a message: what goes home breaks up as soon as all of it is sent'
        : 'fine while senders are evenly paced; bursts above the contracted rate are cut by the provider, and then any stream on it breaks up',
    fix: [fixWords(facts), ...leaving(chosen)].join('; or '),
    label: rateLabel,
  };
}

/** Nobody moves a receiver across a circuit: what does not belong on it goes first, else it is a matter of money or of bits. */
function fixWords({ relief, room }: Facts): string {
  const more = `buy ${formatRate(room.neededBps)} or more`;
  return relief.form === 'carry less'
    ? `${more}, or send ${formatRate(relief.excessBps)} less: compress more, or send fewer streams`
    : `${strayWords(relief)}; or ${more}`;
}
