import type { Span } from '../../source/text-document.js';
import type { Placed } from '../tree.js';
import { attributes, type MediaSection } from './lines.js';
import type { MediaLine } from './media-line.js';
import { placed, slice, spanOf, split, trim, type Piece } from './piece.js';

/** What a payload type stands for: `a=rtpmap` (RFC 8866 §6.6), or a static assignment. */
export interface Encoding {
  readonly whole: Span;
  readonly name: Placed<string>;
  readonly clockRate: Placed<string> | undefined;
  readonly channels: Placed<string> | undefined;
}

/**
 * Encoding names of the static payload types (RFC 3551 §6, tables 4 and 5); with clock rate and channels where the
 * format is judged by them.
 */
const STATIC: ReadonlyMap<string, readonly [name: string, clockRate?: string, channels?: string]> = new Map([
  ['0', ['PCMU']],
  ['3', ['GSM']],
  ['4', ['G723']],
  ['5', ['DVI4']],
  ['6', ['DVI4']],
  ['7', ['LPC']],
  ['8', ['PCMA']],
  ['9', ['G722']],
  ['10', ['L16', '44100', '2']],
  ['11', ['L16', '44100', '1']],
  ['12', ['QCELP']],
  ['13', ['CN']],
  ['14', ['MPA']],
  ['15', ['G728']],
  ['16', ['DVI4']],
  ['17', ['DVI4']],
  ['18', ['G729']],
  ['25', ['CelB']],
  ['26', ['JPEG']],
  ['28', ['nv']],
  ['31', ['H261']],
  ['32', ['MPV']],
  ['33', ['MP2T']],
  ['34', ['H263']],
]);

/** The encoding of the medium's first payload type; undefined when nothing says. */
export function readEncoding(section: MediaSection, line: MediaLine): Encoding | undefined {
  const type = line.payloadType;
  if (type === undefined) return undefined;
  const mapping = valueForPayloadType(section, 'rtpmap', type.text);
  return mapping === undefined || mapping.text === '' ? staticEncoding(type) : mappedEncoding(mapping);
}

/** What follows the payload type in the first `a=rtpmap` or `a=fmtp` line about it. */
export function valueForPayloadType(section: MediaSection, attribute: string, type: string): Piece | undefined {
  for (const value of attributes(section, attribute)) {
    const number = /^\d+/.exec(value.text)?.[0];
    if (number !== undefined && Number(number) === Number(type)) return trim(slice(value, number.length));
  }
  return undefined;
}

function mappedEncoding(mapping: Piece): Encoding | undefined {
  const [name, clockRate, channels] = split(mapping, '/');
  if (name === undefined || name.text === '') return undefined;
  return {
    whole: spanOf(mapping),
    name: placed(name),
    clockRate: clockRate && placed(clockRate),
    channels: channels && placed(channels),
  };
}

function staticEncoding(type: Piece): Encoding | undefined {
  const known = STATIC.get(type.text);
  if (known === undefined) return undefined;
  const [name, clockRate, channels] = known;
  return {
    whole: spanOf(type),
    name: placed(type, name),
    clockRate: clockRate === undefined ? undefined : placed(type, clockRate),
    channels: channels === undefined ? undefined : placed(type, channels),
  };
}
