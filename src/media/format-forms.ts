/** The short forms a format is said in, for the page that lists them. */

export interface FormatForm {
  readonly title: string;
  readonly examples: readonly string[];
  /** What may be said besides. */
  readonly more: string;
}

/** Every form, with examples that work. */
export const FORMATS_SAID: readonly FormatForm[] = [
  {
    title: 'uncompressed video',
    examples: ['1080p50', '1080i59.94', '2160p50 4:2:2 12', '1920x1200p60 rgb 8'],
    more: 'sampling, depth; fill or block packing; maxudp=8960',
  },
  {
    title: 'JPEG XS',
    examples: ['1080p50 jpegxs 3bpp', '2160p59.94 jpegxs 1.5G'],
    more: 'bits per pixel, or the rate SDP states',
  },
  { title: 'SDI over IP', examples: ['2022-6 1080i50'], more: 'SD, HD and 3G' },
  {
    title: 'sound',
    examples: ['L24 8ch 125us', 'L16 2ch 1ms 48k', 'aes67 8ch', 'am824 2ch'],
    more: 'packet time, sample rate',
  },
  { title: 'data', examples: ['anc 1080i50', '2110-41 400k'], more: 'a rate where you know it' },
  { title: 'transport stream', examples: ['ts 20M', 'j2k 150M'], more: 'rate of the stream itself' },
  { title: 'coded video', examples: ['h264 8M', 'h265 12M', 'mjpeg 40M'], more: 'rate of the encoder' },
];
