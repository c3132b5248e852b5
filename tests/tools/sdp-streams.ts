/** A redundant stream as a camera describes it, and what is read of a description. */
import { readSdp } from '../../src/read/sdp/read-sdp.js';
import { documentOf } from '../tools/tree-checks.js';

/** A camera of rig Heron, both legs. */
export const CAMERA = [
  'v=0',
  'o=- 7 3 IN IP4 10.20.1.31',
  's=heron-cam-1',
  't=0 0',
  'a=group:DUP red blue',
  'a=ts-refclk:ptp=IEEE1588-2008:02-00-5E-FF-FE-10-00-01:20',
  'm=video 5004 RTP/AVP 96',
  'c=IN IP4 239.20.1.1/16',
  'a=source-filter: incl IN IP4 239.20.1.1 10.20.1.31',
  'a=rtpmap:96 raw/90000',
  'a=fmtp:96 sampling=YCbCr-4:2:2; width=1920; height=1080; exactframerate=50; depth=10; PM=2110BPM; MAXUDP=8960',
  'a=mediaclk:direct=0',
  'a=mid:red',
  'm=video 5004 RTP/AVP 96',
  'c=IN IP4 239.120.1.1/16',
  'a=source-filter: incl IN IP4 239.120.1.1 10.120.1.31',
  'a=rtpmap:96 raw/90000',
  'a=ts-refclk:ptp=IEEE1588-2008:02-00-5E-FF-FE-10-00-02:20',
  'a=mediaclk:direct=0',
  'a=mid:blue',
] as const;

export interface Stream {
  readonly name: string;
  readonly essence?: string;
  readonly format?: Readonly<Record<string, unknown>>;
  readonly session?: string;
  readonly legs: readonly Readonly<Record<string, unknown>>[];
}

export function streamsOf(text: string, name = 'rig/heron.sdp'): readonly Stream[] {
  return (documentOf(readSdp(name, text)).value as { readonly streams: readonly Stream[] }).streams;
}

export function description(...lines: readonly string[]): string {
  return ['v=0', 'o=- 1 1 IN IP4 10.20.1.31', 's=heron', 't=0 0', ...lines, ''].join('\r\n');
}

export function audio(...lines: readonly string[]): string {
  return description('m=audio 5004 RTP/AVP 97', 'c=IN IP4 239.20.2.1/16', ...lines);
}
