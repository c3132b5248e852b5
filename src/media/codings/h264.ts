/** H.264 (RFC 6184), known by its rate. */
import { codedVideoRate, codedVideoSaid } from '../coded-video.js';
import { defineCoding } from './coding.js';

export const h264 = defineCoding({
  name: 'h264',
  essence: 'video',
  comparedAs: 'h264',
  payloadTypes: { dynamicOnly: false },
  rate: (format, options) => codedVideoRate(format, options, 'H.264'),
  sdp: { encodings: ['h264'], states: ['packet time or frame rate'] },
  said: codedVideoSaid({ title: 'H.264', write: '`h264 8M`', words: ['h264', 'h.264', 'avc'] }, ['h264 8M']),
});
