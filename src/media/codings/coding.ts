/** The contract of a coding: all that is particular to it. What is left out does not apply. */
import type { SaidForm } from '../said.js';
import type { EssenceFacts, Essence, RateOptions, RateResult } from '../types.js';

export interface CodingDescriptor<Name extends string = string> {
  /** As plans write it, and its file is called. */
  readonly name: Name;
  /** What a stream is whose plan names the coding alone. */
  readonly essence: Essence | undefined;
  /** What receivers tell it by: codings alike here send the same. Undefined where nobody knows what is sent. */
  readonly comparedAs: string | undefined;
  readonly payloadTypes: PayloadTypes;
  /** What one copy sends, or which facts are wanting. */
  readonly rate: (format: EssenceFacts, options: RateOptions) => RateResult;
  /** How session descriptions state it; absent where none does. */
  readonly sdp?: SdpForm;
  /** How people say it; absent where nobody does. */
  readonly said?: SaidForm;
  /** Octets that one sample of one channel takes in a packet, where they are not those of the sample. */
  readonly sampleOctets?: number;
  /** Packet time of sound that states none. */
  readonly usualPacketTimeNs?: number;
  /** How long the sender waits by default before a picture leaves; undefined where the format does not tell. */
  readonly transmissionOffsetNs?: (format: EssenceFacts) => number | undefined;
}

/** RTP payload types a stream of the coding may have. */
export interface PayloadTypes {
  /** ST 2110-10 §6.2 leaves its streams the dynamic types only; the older ST 2022-6 is taken to do the same. */
  readonly dynamicOnly: boolean;
  /** Types that mean it besides (RFC 3551 §6, tables 4 and 5); facts not stated may fit. */
  readonly isFixed?: (type: number, format: EssenceFacts) => boolean;
}

export interface SdpForm {
  /** Encoding names in lower case, for media subtypes do not distinguish case (RFC 8866 §6.6). */
  readonly encodings: readonly string[];
  /** What a description states, in the order it is read; what an earlier one states, a later one does not change. */
  readonly states: readonly SdpStatement[];
}

/** A part of a session description that states members of a format. */
export type SdpStatement =
  /** Parameters of ST 2110-20 §7.2. */
  | 'picture'
  /** Parameter `exactframerate`. */
  | 'exact frame rate'
  /** `a=framerate`. */
  | 'frame rate'
  /** `b=AS`, where a standard says what it counts. */
  | 'rate'
  /** Channels and sample rate of `a=rtpmap`. */
  | 'sound'
  /** The 24 of `L24`. */
  | 'sample bits'
  /** `a=ptime`. */
  | 'packet time'
  /** `a=ptime` of `m=audio`, `a=framerate` of any other medium. */
  | 'packet time or frame rate';

/** The same, with its name kept as a type. */
export function defineCoding<const Name extends string>(coding: CodingDescriptor<Name>): CodingDescriptor<Name> {
  return coding;
}
