/** ST 2110-30: linear PCM as AES67 sends it. */
import { isPlainAudio, LINEAR_PCM, LINEAR_PCM_SAID, pcmRate } from '../linear-pcm.js';
import { SOUND_FORM } from '../sound.js';
import { defineCoding } from './coding.js';

export const linearSound = defineCoding({
  ...LINEAR_PCM,
  name: 'st2110-30',
  comparedAs: 'st2110-30',
  payloadTypes: { dynamicOnly: true, isFixed: isPlainAudio },
  rate: pcmRate('ST 2110-30'),
  sdp: { encodings: ['l16', 'l24'], states: ['sound', 'sample bits', 'packet time'] },
  said: {
    ...LINEAR_PCM_SAID,
    title: 'ST 2110-30 sound',
    write: '`L24 8ch 125us`',
    words: ['st2110-30', '2110-30'],
    isMeantBy: ({ sampleBits }) => sampleBits !== undefined,
    form: { ...SOUND_FORM, examples: ['L24 8ch 125us', 'L16 2ch 1ms 48k'] },
  },
});
