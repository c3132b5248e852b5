import { formatRate, type FindingWords, carrierWords } from '../../../src/doors/rule.js';
import {
  burdenWords,
  leaving,
  fillWords,
  loadWords,
  rateLabel,
  roomWords,
  strayWords,
  type FullLinkFacts,
  type RateNote,
} from '../../../src/doors/capacity.js';

export type Facts = FullLinkFacts;

export function words(facts: Facts): FindingWords<RateNote> {
  const { links, loadBps, rateBps, burden, chosen, room } = facts;
  return {
    what: `${carrierWords(links)} ${loadWords(facts)}, ${fillWords(facts)} of its ${formatRate(rateBps)}: ${burdenWords(burden, chosen)}`,
    onAir:
      loadBps > rateBps
        ? 'from the moment all of it is sent the link drops packets of every stream alike: pictures break up and sound clicks everywhere behind it'
        : 'fine while senders are evenly paced; with bursts, or one more stream, it drops packets of every stream on it',
    fix: [reliefWords(facts), ...leaving(chosen), roomWords(room)].join('; or '),
    label: rateLabel,
  };
}

/** What does not belong there goes first. */
function reliefWords({ relief }: Facts): string {
  if (relief.form !== 'carry less') return strayWords(relief);
  return `take ${formatRate(relief.excessBps)} off it: move receivers or senders to the other side, or use a smaller format`;
}
