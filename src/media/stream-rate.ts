/** Packet size, packet rate and bit rates of a stream from its format alone. */
import { ancillaryRate } from './ancillary.js';
import { codedVideoRate } from './coded-video.js';
import { fastMetadataRate } from './fast-metadata.js';
import { jpegXsRate } from './jpeg-xs.js';
import { sdiOverIpRate } from './sdi-over-ip.js';
import { am824Rate, pcmRate } from './sound.js';
import { transportStreamRate } from './transport-stream.js';
import { lacking, type FormatFacts, type RateOptions, type RateResult } from './types.js';
import { uncompressedVideoRate } from './uncompressed-video.js';

/**
 * The rate of one copy of a stream, or the facts its format lacks. Pure; the time it takes does not depend on the
 * format, but for packets filled across lines, which are laid out one by one.
 */
export function streamRate(format: FormatFacts, options: RateOptions = {}): RateResult {
  switch (format.coding) {
    case undefined:
      return lacking('coding');
    case 'st2110-20':
      return uncompressedVideoRate(format, options);
    case 'st2110-22':
      return jpegXsRate(format);
    case 'st2110-30':
    case 'aes67':
      return pcmRate(format, options);
    case 'st2110-31':
      return am824Rate(format, options);
    case 'st2110-40':
      return ancillaryRate(format);
    case 'st2110-41':
      return fastMetadataRate(format);
    case 'st2022-6':
      return sdiOverIpRate(format);
    case 'jpeg2000':
    case 'mpeg2-ts':
      return transportStreamRate(format, options);
    case 'h264':
    case 'h265':
    case 'mjpeg':
    case 'other':
      return codedVideoRate(format, options);
  }
}
