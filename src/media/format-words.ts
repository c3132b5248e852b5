/** The words of the short form in which people say a format: `1080p50 jpegxs 3bpp`. One word states one fact. */
import { nearest } from '../collections/nearest.js';
import { parseFrameRate, parseTime } from '../values/quantity.js';
import { CODINGS, type Coding, type CodingDescriptor } from './codings/index.js';
import { EXTENDED_UDP_OCTETS } from './packet.js';
import { SAMPLINGS } from './pixel-groups.js';
import type { SaidFacts } from './said.js';
import type { EssenceFacts } from './types.js';

/** What words can state, before anyone knows whether it fits the coding. */
export interface WordFacts extends SaidFacts {
  readonly coding: Coding;
}

export type Fact = keyof WordFacts;

/** Facts by name, each with the word that stated it. */
export interface ReadWords {
  readonly facts: Partial<WordFacts>;
  readonly words: ReadonlyMap<Fact, string>;
}

/** The facts of all words, or what is wrong with the first that is not understood. */
export function readWords(text: string): ReadWords | { readonly problem: string } {
  const facts: { -readonly [Key in Fact]?: WordFacts[Key] } = {};
  const words = new Map<Fact, string>();
  for (const word of split(text)) {
    const read = readWord(word);
    if (typeof read === 'string') return { problem: read };
    for (const fact of Object.keys(read) as Fact[]) {
      const before = words.get(fact);
      if (before !== undefined) return { problem: `\`${before}\` and \`${word}\` say the same thing twice; keep one` };
      words.set(fact, word);
    }
    Object.assign(facts, read);
  }
  return { facts, words };
}

const SPACED_UNIT = /(\d) +(ns|us|µs|ms|s|ch|channels?|bpp|bits?|k?hz|[kmg](?:bit\/s|b\/s|bps)?)(?=[\s,]|$)/gi;

/** A number and its unit are one word however they are spaced; the Greek letter mu is the micro sign. */
function split(text: string): readonly string[] {
  return text
    .replace(/\u03bc/g, '\u00b5')
    .replace(SPACED_UNIT, '$1$2')
    .split(/[\s,;]+/)
    .filter((word) => word !== '');
}

function readWord(word: string): Partial<WordFacts> | string {
  const lower = word.toLowerCase();
  return PLAIN_WORDS.get(lower) ?? readPicture(lower, word) ?? readNumber(lower, word) ?? unknownWord(word);
}

function unknownWord(word: string): string {
  const close = nearest(word, [...PLAIN_WORDS.keys(), ...COMMON_WORDS]);
  return close === undefined
    ? `\`${word}\` is no word of a format; \`rigproof rate\` alone lists them`
    : `\`${word}\` is no word of a format; did you mean \`${close}\`?`;
}

const PLAIN_WORDS: ReadonlyMap<string, Partial<WordFacts>> = new Map<string, Partial<WordFacts>>([
  ...CODINGS.flatMap(({ name: coding, said }: CodingDescriptor<Coding>): [string, Partial<WordFacts>][] =>
    (said?.words ?? []).map((word) => [word, { coding }]),
  ),
  ...Object.keys(SAMPLINGS).map((sampling): [string, Partial<WordFacts>] => [sampling.toLowerCase(), { sampling }]),
  ['4:2:2', { sampling: 'YCbCr-4:2:2' }],
  ['4:4:4', { sampling: 'YCbCr-4:4:4' }],
  ['4:2:0', { sampling: 'YCbCr-4:2:0' }],
  ...['8', '10', '12', '16', '16f'].map((depth): [string, Partial<WordFacts>] => [depth, { depth }]),
  ...['8', '10', '12', '16', '24'].flatMap((depth): [string, Partial<WordFacts>][] =>
    ['bit', '-bit', 'bits'].map((unit) => [depth + unit, { depth }]),
  ),
  ['l16', { sampleBits: 16 }],
  ['l24', { sampleBits: 24 }],
  ['mono', { channels: 1 }],
  ['stereo', { channels: 2 }],
  ['general', { packing: 'general' }],
  ['block', { packing: 'block' }],
  ['lines', { generalPacking: 'lines' }],
  ['fill', { generalPacking: 'fill' }],
]);

/** Words with numbers in them that a slip of the pen is held against. */
const COMMON_WORDS = [
  '1080p50',
  '1080i50',
  '1080p59.94',
  '1080i59.94',
  '1080p25',
  '1080p29.97',
  '720p50',
  '720p59.94',
  '2160p50',
  '2160p59.94',
  '2ch',
  '8ch',
  '16ch',
  '64ch',
  '125us',
  '250us',
  '1ms',
  '4ms',
  '48k',
  '96k',
  '44.1k',
  '2bpp',
  '3bpp',
  '4bpp',
  'maxudp=8960',
];

/** Rasters people name by their lines (BT.601, BT.709, BT.2020; 525 and 625 have the active lines of RP 2110-24). */
const RASTERS: Readonly<Record<string, readonly [number, number]>> = {
  480: [720, 480],
  486: [720, 486],
  525: [720, 486],
  576: [720, 576],
  625: [720, 576],
  720: [1280, 720],
  1080: [1920, 1080],
  2160: [3840, 2160],
  4320: [7680, 4320],
};

const SCANS: Readonly<Record<string, EssenceFacts['scan']>> = { p: 'progressive', i: 'interlaced', psf: 'psf' };
const LARGEST_SIDE = 32767; // ST 2110-20 §7.2
const MOST_FRAMES = 1000;
const MOST_FRAMES_INTERLACED = 30;

function readPicture(lower: string, word: string): Partial<WordFacts> | string | undefined {
  const match = /^(?:(\d{1,5})x)?(\d{1,5})(psf|p|i)(\d{1,6}(?:\.\d{1,4})?(?:\/\d{1,5})?)?$/.exec(lower);
  if (match === null) return undefined;
  const [, wide, tall = '', scanLetter = '', rateText] = match;
  const scan = SCANS[scanLetter];
  const raster = wide === undefined ? RASTERS[tall] : ([Number(wide), Number(tall)] as const);
  if (raster === undefined) {
    const close = nearest(tall, Object.keys(RASTERS));
    const meant = close === undefined ? ';' : `; did you mean \`${close}${lower.slice(tall.length)}\`?`;
    return `no raster is named by ${tall} lines${meant} Write others as \`1920x1200p50\``;
  }
  if (raster.some((side) => side < 1 || side > LARGEST_SIDE)) {
    return `\`${word}\` is no picture: width and height go from 1 to ${LARGEST_SIDE}`;
  }
  if (rateText === undefined) return `\`${word}\` states no frame rate; write \`${word}50\``;
  const [numerator, denominator] = parseFrameRate(rateText);
  const rate = numerator / denominator;
  if (!(rate > 0) || rate > MOST_FRAMES) {
    return `\`${word}\` has no frame rate anyone sends; write \`${lower.slice(0, -rateText.length)}50\``;
  }
  const countsFields = scan === 'interlaced' && rate > MOST_FRAMES_INTERLACED;
  return {
    picture: {
      width: raster[0],
      height: raster[1],
      scan,
      frameRate: countsFields ? halved(numerator, denominator) : [numerator, denominator],
      countsFrames: scan === 'interlaced' && !countsFields,
    },
  };
}

/** A frame has two fields. */
function halved(numerator: number, denominator: number): readonly [number, number] {
  return numerator % 2 === 0 ? [numerator / 2, denominator] : [numerator, denominator * 2];
}

const UNIT: Readonly<Record<string, number>> = { k: 1e3, m: 1e6, g: 1e9 };

function readNumber(lower: string, word: string): Partial<WordFacts> | string | undefined {
  const match = /^(?:maxudp=?)?(\d{1,9}(?:\.\d{1,6})?)(.*)$/.exec(lower);
  if (match === null) return undefined;
  const value = Number(match[1]);
  const unit = match[2] ?? '';
  if (lower.startsWith('maxudp')) {
    const isLimit = unit === '' && Number.isInteger(value) && value >= 1 && value <= EXTENDED_UDP_OCTETS;
    if (isLimit) return { maxUdpOctets: value };
    return `\`${word}\`: the largest datagram is a whole number up to ${EXTENDED_UDP_OCTETS} (ST 2110-10 §6.4)`;
  }
  if (value === 0) return `\`${word}\` is nothing; leave it out or write more`;
  if (/^ch(annels?)?$/.test(unit)) {
    if (Number.isInteger(value) && value <= MOST_CHANNELS) return { channels: value };
    return `\`${word}\`: channels are a whole number up to ${MOST_CHANNELS}`;
  }
  if (unit === 'bpp') return { bitsPerPixel: value };
  if (unit === 'hz' || unit === 'khz') return { sampleRateHz: Math.round(value * (unit === 'hz' ? 1 : 1000)) };
  if (unit === '') return Number.isInteger(value) && value >= LEAST_SAMPLE_RATE ? { sampleRateHz: value } : undefined;
  if (unit === 'k') return { thousands: value * 1000 };
  const scale = /^[kmg](bit\/s|b\/s|bps|bit)?$/.test(unit) ? UNIT[unit.slice(0, 1)] : undefined;
  if (scale !== undefined) return { rateBps: Math.round(value * scale) };
  const packetTimeNs = parseTime(lower);
  return packetTimeNs === undefined ? undefined : { packetTimeNs };
}

const MOST_CHANNELS = 1024;
const LEAST_SAMPLE_RATE = 8000;
