import type { Coding } from '../plan/types.js';
import { readWords, type Fact, type PictureWord, type ReadWords, type WordFacts } from './format-words.js';
import { rateOfBitsPerPixel } from './jpeg-xs.js';
import type { FormatFacts, RateOptions } from './types.js';

/** A format as people say it, completed. */
export interface SaidFormat {
  readonly format: FormatFacts;
  readonly options: RateOptions;
  /** What nobody said and was taken as so. */
  readonly assumptions: readonly string[];
}

/** What is wrong with the words, and what to write instead. */
export interface SayingProblem {
  readonly problem: string;
}

/** Reads `1080p50 jpegxs 3bpp`, `L24 8ch 125us`, `ts 20M`; or says what to write instead. */
export function parseFormat(text: string): SaidFormat | SayingProblem {
  const read = readWords(text);
  if ('problem' in read) return read;
  if (read.words.size === 0) return { problem: 'no format is given; write one such as `1080p50`' };
  const coding = read.facts.coding ?? codingOf(read.facts);
  if (coding === undefined) return { problem: NOTHING_SENT };
  const family = FAMILIES[coding];
  const strange = wordOutside(read, family);
  if (strange !== undefined) {
    return { problem: `\`${strange}\` says nothing about ${family.title}; write ${family.write}` };
  }
  return family.read(read.facts, coding);
}

const NOTHING_SENT =
  'nothing says what is sent; write a picture (`1080p50`), sound (`L24 8ch`) or a coding and its rate (`h264 8M`)';

/** The coding people mean who name none. */
function codingOf({ picture, sampleBits, bitsPerPixel }: Partial<WordFacts>): Coding | undefined {
  if (sampleBits !== undefined) return 'st2110-30';
  if (picture === undefined) return undefined;
  return bitsPerPixel === undefined ? 'st2110-20' : 'st2110-22';
}

function wordOutside({ words }: ReadWords, { takes }: Family): string | undefined {
  for (const [fact, word] of words) if (fact !== 'coding' && !takes.includes(fact)) return word;
  return undefined;
}

interface Family {
  readonly title: string;
  /** An example, for messages. */
  readonly write: string;
  /** Facts its words may state, besides the coding. */
  readonly takes: readonly Fact[];
  readonly read: (facts: Partial<WordFacts>, coding: Coding) => SaidFormat | SayingProblem;
}

function readUncompressed(facts: Partial<WordFacts>): SaidFormat | SayingProblem {
  const { picture, sampling, depth, packing, maxUdpOctets, generalPacking } = facts;
  if (picture === undefined) return { problem: 'uncompressed video has a picture; write `1080p50`' };
  if (packing === 'block' && generalPacking !== undefined) {
    return { problem: `\`block\` packing leaves the sender no choice; leave \`${generalPacking}\` out` };
  }
  return {
    format: {
      ...pictureFormat(picture, 'st2110-20'),
      sampling: sampling ?? 'YCbCr-4:2:2',
      depth: depth ?? '10',
      packing,
      maxUdpOctets,
    },
    options: { generalPacking },
    assumptions: [
      ...pictureAssumptions(picture),
      ...(sampling === undefined ? ['sampling YCbCr-4:2:2'] : []),
      ...(depth === undefined ? ['depth 10 bit'] : []),
    ],
  };
}

function readJpegXs(facts: Partial<WordFacts>): SaidFormat | SayingProblem {
  const { picture, sampling, depth, bitsPerPixel } = facts;
  if (picture === undefined) return { problem: 'JPEG XS has a picture; write `1080p50 jpegxs 3bpp`' };
  const said = rateOf(facts);
  if (said !== undefined && bitsPerPixel !== undefined) {
    return { problem: 'a rate and bits per pixel say the same thing twice; keep one' };
  }
  const format: FormatFacts = { ...pictureFormat(picture, 'st2110-22'), sampling, depth };
  const rateBps = bitsPerPixel === undefined ? said : rateOfBitsPerPixel(format, bitsPerPixel);
  if (rateBps === undefined) {
    return { problem: 'JPEG XS has the rate it is set to; write `1080p50 jpegxs 3bpp` or `1080p50 jpegxs 320M`' };
  }
  const coded = `${bitsPerPixel ?? 0} bit per pixel in full packets, which SDP states as b=AS:${rateBps / 1000}`;
  return {
    format: { ...format, rateBps },
    options: {},
    assumptions: [...pictureAssumptions(picture), ...(bitsPerPixel === undefined ? [] : [coded])],
  };
}

function readSound(facts: Partial<WordFacts>, coding: Coding): SaidFormat | SayingProblem {
  const { channels, packetTimeNs, depth, sampleRateHz, thousands } = facts;
  const isAm824 = coding === 'st2110-31';
  if (channels === undefined) return { problem: `sound has channels; write \`${isAm824 ? 'am824' : 'L24'} 8ch\`` };
  if (facts.sampleBits !== undefined && depth !== undefined) {
    return { problem: `\`L${facts.sampleBits}\` says the depth; leave ${depth} bit out` };
  }
  if (sampleRateHz !== undefined && thousands !== undefined) return { problem: 'two sample rates; keep one' };
  const sampleBits = facts.sampleBits ?? (depth === undefined ? undefined : Number(depth));
  if (sampleBits !== undefined && sampleBits !== 16 && sampleBits !== 24) {
    return { problem: 'sound has 16 or 24 bit; write `L16` or `L24`' };
  }
  const rateHz = sampleRateHz ?? thousands;
  return {
    format: {
      ...NOTHING,
      essence: 'audio',
      coding,
      channels,
      sampleBits: isAm824 ? undefined : (sampleBits ?? 24),
      sampleRateHz: rateHz ?? 48_000,
      packetTimeNs: packetTimeNs ?? 1_000_000,
    },
    options: {},
    assumptions: [
      ...(isAm824 || sampleBits !== undefined ? [] : ['24 bit']),
      ...(rateHz === undefined ? ['48 kHz'] : []),
      ...(packetTimeNs === undefined ? ['packet time 1 ms'] : []),
    ],
  };
}

function readSdi({ picture }: Partial<WordFacts>): SaidFormat | SayingProblem {
  if (picture === undefined) return { problem: 'an SDI signal has a picture; write `2022-6 1080i50`' };
  return { format: pictureFormat(picture, 'st2022-6'), options: {}, assumptions: pictureAssumptions(picture) };
}

function readAncillary(facts: Partial<WordFacts>): SaidFormat | SayingProblem {
  const { picture } = facts;
  if (picture === undefined) return { problem: 'ancillary data follows a picture; write `anc 1080i50`' };
  return {
    format: { ...pictureFormat(picture, 'st2110-40'), essence: 'data', rateBps: rateOf(facts) },
    options: {},
    assumptions: pictureAssumptions(picture),
  };
}

function readRated(facts: Partial<WordFacts>, coding: Coding): SaidFormat | SayingProblem {
  const rateBps = rateOf(facts);
  const { title, write } = FAMILIES[coding];
  if (rateBps === undefined) return { problem: `${title} is known by its rate; write ${write}` };
  const format = facts.picture === undefined ? { ...NOTHING, coding } : pictureFormat(facts.picture, coding);
  const isMetadata = coding === 'st2110-41';
  return {
    format: { ...format, essence: isMetadata ? 'data' : 'video', rateBps },
    // Whoever says `ts 20M` or `h264 8M` reads it off a multiplexer or an encoder.
    options: isMetadata ? {} : { statedRateCounts: 'stream' },
    assumptions: [],
  };
}

const RATE: readonly Fact[] = ['rateBps', 'thousands'];
const RATED_PICTURE: readonly Fact[] = ['picture', ...RATE];
const AM824: readonly Fact[] = ['channels', 'packetTimeNs', 'sampleRateHz', 'thousands'];
const PCM: readonly Fact[] = ['sampleBits', 'depth', ...AM824];

const FAMILIES: Readonly<Record<Coding, Family>> = {
  'st2110-20': {
    title: 'uncompressed video',
    write: '`1080p50 4:2:2 10`',
    read: readUncompressed,
    takes: ['picture', 'sampling', 'depth', 'packing', 'generalPacking', 'maxUdpOctets'],
  },
  'st2110-22': {
    title: 'JPEG XS',
    write: '`1080p50 jpegxs 3bpp`',
    read: readJpegXs,
    takes: ['picture', 'sampling', 'depth', 'bitsPerPixel', ...RATE],
  },
  'st2110-30': { title: 'ST 2110-30 sound', write: '`L24 8ch 125us`', takes: PCM, read: readSound },
  aes67: { title: 'AES67 sound', write: '`aes67 L24 8ch 1ms`', takes: PCM, read: readSound },
  'st2110-31': { title: 'AM824', write: '`am824 2ch 1ms`', takes: AM824, read: readSound },
  'st2110-40': { title: 'ancillary data', write: '`anc 1080i50`', takes: RATED_PICTURE, read: readAncillary },
  'st2110-41': { title: 'fast metadata', write: '`2110-41 400k`', takes: RATE, read: readRated },
  'st2022-6': { title: 'SDI over IP', write: '`2022-6 1080i50`', takes: ['picture'], read: readSdi },
  jpeg2000: { title: 'JPEG 2000', write: '`j2k 150M`', takes: RATED_PICTURE, read: readRated },
  'mpeg2-ts': { title: 'a transport stream', write: '`ts 20M`', takes: RATED_PICTURE, read: readRated },
  h264: { title: 'H.264', write: '`h264 8M`', takes: RATED_PICTURE, read: readRated },
  h265: { title: 'H.265', write: '`h265 8M`', takes: RATED_PICTURE, read: readRated },
  mjpeg: { title: 'Motion JPEG', write: '`mjpeg 40M`', takes: RATED_PICTURE, read: readRated },
  other: { title: 'a stream of another coding', write: '`h264 8M`', takes: RATE, read: readRated },
};

const NOTHING: FormatFacts = {
  name: undefined,
  essence: undefined,
  coding: undefined,
  width: undefined,
  height: undefined,
  frameRate: undefined,
  scan: undefined,
  sampling: undefined,
  depth: undefined,
  packing: undefined,
  channels: undefined,
  sampleRateHz: undefined,
  sampleBits: undefined,
  packetTimeNs: undefined,
  maxUdpOctets: undefined,
  rateBps: undefined,
};

function pictureFormat({ width, height, scan, frameRate }: PictureWord, coding: Coding): FormatFacts {
  return { ...NOTHING, essence: 'video', coding, width, height, scan, frameRate };
}

function pictureAssumptions({ countsFrames }: PictureWord): readonly string[] {
  return countsFrames ? ['the number after `i` counts frames, not fields'] : [];
}

function rateOf({ rateBps, thousands }: Partial<WordFacts>): number | undefined {
  return rateBps ?? thousands;
}
