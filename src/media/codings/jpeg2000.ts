/** JPEG 2000 in a transport stream (VSF TR-01). */
import { transportStreamRate, transportStreamSaid, type TransportContent } from '../transport-stream.js';
import { defineCoding } from './coding.js';

const CONTENT: TransportContent = {
  note: 'JPEG 2000 in a',
  assumptions: ['carried as VSF TR-01 does, in a transport stream'],
};

export const jpeg2000 = defineCoding({
  name: 'jpeg2000',
  essence: 'video',
  comparedAs: 'jpeg2000',
  // What is sent is a transport stream, and 33 is what those have (RFC 3551 §6, table 5).
  payloadTypes: { dynamicOnly: false, isFixed: (type) => type === 33 },
  rate: (format, options) => transportStreamRate(format, options, CONTENT),
  sdp: { encodings: ['jpeg2000'], states: ['packet time or frame rate'] },
  said: transportStreamSaid({ title: 'JPEG 2000', write: '`j2k 150M`', words: ['j2k', 'jpeg2000'] }, ['j2k 150M']),
});
