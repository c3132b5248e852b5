/** A stream list, and what is read of one. */
import { readCsv } from '../../src/read/csv.js';
import { documentOf } from '../tools/tree-checks.js';

export interface Stream {
  readonly name: string;
  readonly essence?: string;
  readonly format?: unknown;
  readonly legs: readonly Readonly<Record<string, unknown>>[];
}

export function streamsOf(text: string): readonly Stream[] {
  return (documentOf(readCsv('heron.csv', text)).value as { readonly streams: readonly Stream[] }).streams;
}

/** The patch list of rig Heron. */
export const LIST = [
  'Device,Signal Name,Essence,Format,Group A,Group B,UDP Port,PT,Source IP A,Source IP B,TTL,DSCP,Rack,Notes',
  'cam-1,video,Video,1080p50,239.20.1.1,239.120.1.1,5004,96,10.20.1.31,10.120.1.31,16,AF42,R1,"start, finish"',
  'stage-box,stage-box mics,audio,,239.20.2.1,,5004.0,97,10.20.1.41,,16,34,R2,',
];

export const HERON: readonly Stream[] = [
  {
    name: 'cam-1 video',
    essence: 'video',
    format: '1080p50',
    legs: [
      { group: '239.20.1.1', source: '10.20.1.31', port: 5004, payloadType: 96, ttl: 16, dscp: 36 },
      { group: '239.120.1.1', source: '10.120.1.31', port: 5004, payloadType: 96, ttl: 16, dscp: 36 },
    ],
  },
  {
    name: 'stage-box mics',
    essence: 'audio',
    legs: [{ group: '239.20.2.1', source: '10.20.1.41', port: 5004, payloadType: 97, ttl: 16, dscp: 34 }],
  },
];
