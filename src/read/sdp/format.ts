import { CODINGS, other, type CodingDescriptor, type SdpStatement } from '../../media/codings/index.js';
import type { Span } from '../../source/text-document.js';
import { quote, type ProblemList } from '../problem-list.js';
import type { Placed, Tree } from '../tree.js';
import { readEncoding, valueForPayloadType, type Encoding } from './encoding.js';
import { attributes, type MediaSection } from './lines.js';
import type { MediaLine } from './media-line.js';
import { readParameters, type Parameters } from './parameters.js';
import { placed, slice, spanOf } from './piece.js';

type Facts = Readonly<Record<string, Placed | undefined>>;

const BY_ENCODING: ReadonlyMap<string, CodingDescriptor> = new Map(
  CODINGS.flatMap((coding: CodingDescriptor) => (coding.sdp?.encodings ?? []).map((name) => [name, coding] as const)),
);

const LARGEST_PICTURE = 32767; // ST 2110-20 §7.2
const EXTENDED_UDP_OCTETS = 8960; // ST 2110-10 §6.4
const FRAME_RATE = /^\d{1,9}(\.\d{1,9})?(\/\d{1,9})?$/;

/** The essence format a medium states; undefined when its encoding is not known. */
export function readFormat(
  section: MediaSection,
  line: MediaLine,
  tree: Tree,
  problems: ProblemList,
): Placed | undefined {
  const encoding = readEncoding(section, line);
  if (encoding === undefined) return undefined;
  const coding = BY_ENCODING.get(encoding.name.value.toLowerCase()) ?? other;
  return tree.mapping(encoding.whole, {
    // Data travels as `m=video`, or as whatever a sender calls it.
    essence: coding.essence === 'data' ? { ...encoding.name, value: 'data' } : readEssence(line),
    coding: { ...encoding.name, value: coding.name },
    ...readStated(section, line, encoding, coding.sdp?.states ?? [], problems),
  });
}

/** What a medium carries, by its `m=` line alone. */
export function readEssence(line: MediaLine): Placed<'video' | 'audio' | 'data'> {
  const media = line.media.text.toLowerCase();
  return placed(line.media, media === 'video' || media === 'audio' ? media : 'data');
}

/** `a=ptime` (RFC 8866 §6.4), in milliseconds as it stands. */
export function readPacketTime(section: MediaSection, problems: ProblemList): Placed<string> | undefined {
  const piece = attributes(section, 'ptime')[0];
  if (piece === undefined) return undefined;
  if (/^\d{1,9}(\.\d{1,9})?$/.test(piece.text)) return placed(piece, `${piece.text} ms`);
  problems.add(spanOf(piece), `packet time ${quote(piece.text)} is not a number of milliseconds`, 'write `a=ptime:1`');
  return undefined;
}

/** What all these statements state; of two that state the same, the first. */
function readStated(
  section: MediaSection,
  line: MediaLine,
  encoding: Encoding,
  statements: readonly SdpStatement[],
  problems: ProblemList,
): Facts {
  const parameters = readParameters(line.payloadType && valueForPayloadType(section, 'fmtp', line.payloadType.text));
  const medium: Medium = { section, line, encoding, parameters, problems };
  const facts: Record<string, Placed | undefined> = {};
  for (const statement of statements)
    for (const [member, value] of Object.entries(STATEMENTS[statement](medium))) facts[member] ??= value;
  return facts;
}

interface Medium {
  readonly section: MediaSection;
  readonly line: MediaLine;
  readonly encoding: Encoding;
  readonly parameters: Parameters;
  readonly problems: ProblemList;
}

const STATEMENTS: Readonly<Record<SdpStatement, (medium: Medium) => Facts>> = {
  picture: ({ parameters, problems }) => readPicture(parameters, problems),
  'exact frame rate': ({ parameters, problems }) => ({ frameRate: readExactFrameRate(parameters, problems) }),
  'frame rate': ({ section }) => ({ frameRate: readFrameRate(section) }),
  rate: ({ section }) => ({ rate: readStatedRate(section) }),
  sound: ({ encoding, problems }) => readAudio(encoding, problems),
  'sample bits': ({ encoding: { name } }) => ({
    sampleBits: { value: Number(name.value.slice(1)), span: digitsOf(name) },
  }),
  'packet time': ({ section, problems }) => ({ packetTime: readPacketTime(section, problems) }),
  'packet time or frame rate': (medium) =>
    STATEMENTS[medium.line.media.text.toLowerCase() === 'audio' ? 'packet time' : 'frame rate'](medium),
};

/** Parameters of ST 2110-20 §7.2, which ST 2110-22 and RFC 9134 share. */
function readPicture(parameters: Parameters, problems: ProblemList): Facts {
  return {
    width: parameters.wholeNumber('width', 1, LARGEST_PICTURE, problems),
    height: parameters.wholeNumber('height', 1, LARGEST_PICTURE, problems),
    scan: readScan(parameters),
    sampling: parameters.matching('sampling', /^.{1,40}$/, 'sampling=YCbCr-4:2:2', problems),
    depth: parameters.matching('depth', /^(8|10|12|16|16f)$/, 'depth=10', problems),
    packing: readPacking(parameters),
    maxUdp: parameters.wholeNumber('maxudp', 1, EXTENDED_UDP_OCTETS, problems),
  };
}

/** `interlace` and `segmented` are flags; a description that has parameters but neither is progressive. */
function readScan(parameters: Parameters): Placed<string> | undefined {
  // `interlaced` is a common slip for `interlace`: neither scan can be taken as stated.
  if (parameters.whole === undefined || parameters.flag('interlaced') !== undefined) return undefined;
  const segmented = parameters.flag('segmented');
  if (segmented !== undefined) return placed(segmented, 'psf');
  const interlace = parameters.flag('interlace');
  return interlace === undefined ? placed(parameters.whole, 'progressive') : placed(interlace, 'interlaced');
}

function readPacking(parameters: Parameters): Placed<string> | undefined {
  const mode = parameters.value('pm');
  if (mode?.value === '2110GPM') return { ...mode, value: 'general' };
  return mode?.value === '2110BPM' ? { ...mode, value: 'block' } : undefined;
}

function readExactFrameRate(parameters: Parameters, problems: ProblemList): Placed<string> | undefined {
  const rate = parameters.matching('exactframerate', FRAME_RATE, 'exactframerate=60000/1001', problems);
  if (rate === undefined || isPositiveRate(rate.value)) return rate;
  problems.add(rate.span, `frame rate ${quote(rate.value)} is zero or infinite`, 'write `exactframerate=60000/1001`');
  return undefined;
}

/** `a=framerate` (RFC 8866 §6.13): a bound that field senders use as the rate; nothing when it is not one number. */
function readFrameRate(section: MediaSection): Placed<string> | undefined {
  const piece = attributes(section, 'framerate')[0];
  return piece !== undefined && FRAME_RATE.test(piece.text) && isPositiveRate(piece.text) ? placed(piece) : undefined;
}

function isPositiveRate(text: string): boolean {
  const [numerator, denominator = '1'] = text.split('/');
  return Number(numerator) > 0 && Number(denominator) > 0;
}

function readAudio(encoding: Encoding, problems: ProblemList): Facts {
  return {
    // RFC 8866 §6.6: one channel when the mapping states none.
    channels:
      encoding.channels === undefined
        ? { value: 1, span: encoding.whole }
        : number(encoding.channels, 'channel count', 1024, problems),
    sampleRate: encoding.clockRate && number(encoding.clockRate, 'sample rate', 999_999_999, problems),
  };
}

function number(text: Placed<string>, what: string, most: number, problems: ProblemList): Placed<number> | undefined {
  const value = /^\d{1,9}$/.test(text.value) ? Number(text.value) : 0;
  if (value >= 1 && value <= most) return { value, span: text.span };
  problems.add(text.span, `${what} ${quote(text.value)} is not a number from 1 to ${most}`, 'write `L24/48000/2`');
  return undefined;
}

/**
 * `b=AS` in kbit/s. ST 2110-22 §7.3 requires it and says what it counts; elsewhere senders disagree (published
 * descriptions of uncompressed video give the rate of the SDI signal), so it is not taken as a fact.
 */
function readStatedRate(section: MediaSection): Placed<string> | undefined {
  for (const { type, value } of section.lines) {
    const digits = type === 'b' ? /^AS:\s*(\d{1,12})$/.exec(value.text)?.[1] : undefined;
    if (digits === undefined) continue;
    return placed(slice(value, value.text.length - digits.length), `${digits} kbit/s`);
  }
  return undefined;
}

/** The `24` of `L24`; a static type has no digits of its own, so the type number stands for it. */
function digitsOf({ value, span }: Placed<string>): Span {
  return span.end - span.start === value.length ? { start: span.start + 1, end: span.end } : span;
}
