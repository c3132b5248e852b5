/** AES67: linear PCM. Descriptions state it as they state ST 2110-30, and are read as that. */
import { isPlainAudio, LINEAR_PCM, LINEAR_PCM_SAID, pcmRate } from '../linear-pcm.js';
import { SOUND_FORM } from '../sound.js';
import { defineCoding } from './coding.js';

export const aes67 = defineCoding({
  ...LINEAR_PCM,
  name: 'aes67',
  // ST 2110-30 §6.1 sends what AES67 does.
  comparedAs: 'st2110-30',
  payloadTypes: { dynamicOnly: false, isFixed: isPlainAudio },
  rate: pcmRate('AES67'),
  said: {
    ...LINEAR_PCM_SAID,
    title: 'AES67 sound',
    write: '`aes67 L24 8ch 1ms`',
    words: ['aes67'],
    form: { ...SOUND_FORM, examples: ['aes67 8ch'] },
  },
});
