/** How people say a coding in words, and what the readers of several codings share. */
import type { Essence, EssenceFacts, GeneralPacking, RateOptions } from './types.js';

/** Raster, scan and frame rate, which are said in one word. */
export interface PictureWord extends Pick<EssenceFacts, 'width' | 'height' | 'scan' | 'frameRate'> {
  /** A number of 30 or less after `i` can only be frames. */
  readonly countsFrames: boolean;
}

/** What words can state besides the coding, before anyone knows whether it fits. */
export interface SaidFacts {
  readonly picture: PictureWord;
  readonly sampling: string;
  readonly depth: string;
  readonly sampleBits: number;
  readonly channels: number;
  readonly packetTimeNs: number;
  readonly sampleRateHz: number;
  /** `48k`: a sample rate beside sound, a bit rate elsewhere. */
  readonly thousands: number;
  readonly rateBps: number;
  readonly bitsPerPixel: number;
  readonly packing: 'general' | 'block';
  readonly generalPacking: GeneralPacking;
  readonly maxUdpOctets: number;
}

/** How people say a coding. */
export interface SaidForm {
  /** What messages call it. */
  readonly title: string;
  /** An example, for messages. */
  readonly write: string;
  /** Words that name it, in lower case. */
  readonly words: readonly string[];
  /** What its words may state. */
  readonly takes: readonly (keyof SaidFacts)[];
  /** Whether words that name no coding mean this one; of several, the first in the registry. */
  readonly isMeantBy?: (facts: Partial<SaidFacts>) => boolean;
  /** Its place on the page that lists the forms. */
  readonly form: FormatForm;
  readonly read: (facts: Partial<SaidFacts>) => SaidEssence | SayingProblem;
}

/** A form for the page that lists them; forms of one title stand together under what the first of them says. */
export interface FormatForm {
  readonly title: string;
  /** Examples that work. */
  readonly examples: readonly string[];
  /** What may be said besides. */
  readonly more: string;
}

/** What was said, completed, but for the coding. */
export interface SaidEssence {
  readonly format: EssenceFacts;
  readonly options: RateOptions;
  /** What nobody said and was taken as so. */
  readonly assumptions: readonly string[];
}

/** What is wrong with the words, and what to write instead. */
export interface SayingProblem {
  readonly problem: string;
}

/** Facts that say a bit rate. */
export const RATE: readonly (keyof SaidFacts)[] = ['rateBps', 'thousands'];

/** The bit rate that was said. */
export function rateOf({ rateBps, thousands }: Partial<SaidFacts>): number | undefined {
  return rateBps ?? thousands;
}

export const NOTHING: EssenceFacts = {
  essence: undefined,
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

/** A format of the picture alone. */
export function pictureFormat({ width, height, scan, frameRate }: PictureWord): EssenceFacts {
  return { ...NOTHING, essence: 'video', width, height, scan, frameRate };
}

export function pictureAssumptions({ countsFrames }: PictureWord): readonly string[] {
  return countsFrames ? ['the number after `i` counts frames, not fields'] : [];
}

/** Reads the words of a coding that is known by its rate; a picture may be said besides. */
export function readRated(
  { title, write }: Pick<SaidForm, 'title' | 'write'>,
  essence: Essence,
  options: RateOptions,
): SaidForm['read'] {
  return (facts) => {
    const rateBps = rateOf(facts);
    if (rateBps === undefined) return { problem: `${title} is known by its rate; write ${write}` };
    const format = facts.picture === undefined ? NOTHING : pictureFormat(facts.picture);
    return { format: { ...format, essence, rateBps }, options, assumptions: [] };
  };
}

/** How people say a coding that is known by its rate, which they read off a box. */
export function ratedSaid(said: Pick<SaidForm, 'title' | 'write' | 'words'>, form: FormatForm): SaidForm {
  return {
    ...said,
    takes: ['picture', ...RATE],
    form,
    read: readRated(said, 'video', { statedRateCounts: 'stream' }),
  };
}

/** Streams that carry data share a place on the page of forms. */
export const DATA_FORM: Omit<FormatForm, 'examples'> = { title: 'data', more: 'a rate where you know it' };
