/** Motion JPEG, known by its rate. */
import { codedVideoRate, codedVideoSaid } from '../coded-video.js';
import { defineCoding } from './coding.js';

export const motionJpeg = defineCoding({
  name: 'mjpeg',
  essence: 'video',
  comparedAs: 'mjpeg',
  payloadTypes: { dynamicOnly: false, isFixed: (type) => type === 26 },
  rate: (format, options) => codedVideoRate(format, options, 'Motion JPEG'),
  sdp: { encodings: ['jpeg'], states: ['packet time or frame rate'] },
  said: codedVideoSaid({ title: 'Motion JPEG', write: '`mjpeg 40M`', words: ['mjpeg'] }, ['mjpeg 40M']),
});
