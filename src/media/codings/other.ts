/** Whatever has no name here: nobody says it in words, and nothing is held against it. */
import { codedVideoRate } from '../coded-video.js';
import { defineCoding } from './coding.js';

export const other = defineCoding({
  name: 'other',
  essence: undefined,
  comparedAs: undefined,
  payloadTypes: { dynamicOnly: false, isFixed: () => true },
  rate: (format, options) => codedVideoRate(format, options, 'coding not known'),
  // No encoding name is its own: descriptions with a name that no coding has are read as this one.
  sdp: { encodings: [], states: ['packet time or frame rate'] },
});
