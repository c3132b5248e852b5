/** Every coding there is. The order is that of lists for people: choices of the schema, forms of `rigproof rate`. */
import { aes67 } from './aes67.js';
import type { CodingDescriptor } from './coding.js';
import { h264 } from './h264.js';
import { h265 } from './h265.js';
import { jpeg2000 } from './jpeg2000.js';
import { motionJpeg } from './mjpeg.js';
import { transportStream } from './mpeg2-ts.js';
import { other } from './other.js';
import { sdiOverIp } from './st2022-6.js';
import { uncompressedVideo } from './st2110-20.js';
import { jpegXs } from './st2110-22.js';
import { linearSound } from './st2110-30.js';
import { am824 } from './st2110-31.js';
import { ancillaryData } from './st2110-40.js';
import { fastMetadata } from './st2110-41.js';

export const CODINGS = [
  uncompressedVideo,
  jpegXs,
  sdiOverIp,
  linearSound,
  aes67,
  am824,
  ancillaryData,
  fastMetadata,
  transportStream,
  jpeg2000,
  h264,
  h265,
  motionJpeg,
  other,
] as const;

/** How a stream is coded and carried. */
export type Coding = (typeof CODINGS)[number]['name'];

export { other };
export type { CodingDescriptor, SdpStatement } from './coding.js';

/** What is particular to a coding; undefined where none is named, or one that is not known. */
export function codingNamed(name: string | undefined): CodingDescriptor | undefined {
  return name === undefined ? undefined : BY_NAME.get(name);
}

const BY_NAME: ReadonlyMap<string, CodingDescriptor> = new Map(CODINGS.map((coding) => [coding.name, coding]));
