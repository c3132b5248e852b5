/** ST 2110-31: AM824, whose channels are AES3 subframes. */
import { readSound, SOUND_FACTS, SOUND_FORM, soundRate } from '../sound.js';
import type { EssenceFacts, RateOptions, RateResult } from '../types.js';
import { defineCoding } from './coding.js';

/** Octets of one AES3 subframe (ST 2110-31). */
const SUBFRAME_OCTETS = 4;

export const am824 = defineCoding({
  name: 'st2110-31',
  essence: 'audio',
  comparedAs: 'st2110-31',
  payloadTypes: { dynamicOnly: true },
  rate: am824Rate,
  sampleOctets: SUBFRAME_OCTETS,
  sdp: { encodings: ['am824'], states: ['sound', 'packet time'] },
  said: {
    title: 'AM824',
    write: '`am824 2ch 1ms`',
    words: ['st2110-31', '2110-31', 'am824'],
    takes: SOUND_FACTS,
    form: { ...SOUND_FORM, examples: ['am824 2ch'] },
    read: readSound('am824 8ch', false),
  },
});

function am824Rate(format: EssenceFacts, options: RateOptions): RateResult {
  const odd = (format.channels ?? 0) % 2 === 1;
  return soundRate(format, options, {
    facts: {},
    octetsPerSample: SUBFRAME_OCTETS,
    note: (channels) => `ST 2110-31, AM824, ${channels} ${channels === 1 ? 'subframe' : 'subframes'}`,
    assumptions: odd ? ['an odd number of subframes; ST 2110-31 carries whole AES3 pairs'] : [],
  });
}
