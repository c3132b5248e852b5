/** MPEG-2 transport streams over RTP (RFC 2250). */
import { transportStreamRate, transportStreamSaid } from '../transport-stream.js';
import { defineCoding } from './coding.js';

export const transportStream = defineCoding({
  name: 'mpeg2-ts',
  essence: 'video',
  comparedAs: 'mpeg2-ts',
  payloadTypes: { dynamicOnly: false, isFixed: (type) => type === 33 },
  rate: (format, options) => transportStreamRate(format, options, { note: 'MPEG-2', assumptions: [] }),
  sdp: { encodings: ['mp2t'], states: ['packet time or frame rate'] },
  said: transportStreamSaid(
    { title: 'a transport stream', write: '`ts 20M`', words: ['ts', 'mp2t', 'mpegts', 'mpeg-ts', 'mpeg2-ts'] },
    ['ts 20M'],
  ),
});
