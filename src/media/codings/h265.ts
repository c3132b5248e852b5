/** H.265, known by its rate. */
import { codedVideoRate, codedVideoSaid } from '../coded-video.js';
import { defineCoding } from './coding.js';

export const h265 = defineCoding({
  name: 'h265',
  essence: 'video',
  comparedAs: 'h265',
  payloadTypes: { dynamicOnly: false },
  rate: (format, options) => codedVideoRate(format, options, 'H.265'),
  sdp: { encodings: ['h265'], states: ['packet time or frame rate'] },
  said: codedVideoSaid({ title: 'H.265', write: '`h265 8M`', words: ['h265', 'h.265', 'hevc'] }, ['h265 12M']),
});
