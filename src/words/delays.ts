/** Words for parts of a delay, and for how delays stand. */
import {
  basisOf,
  type DelayGap,
  type DelayItem,
  type DelayPart,
  type DelaySource,
  type LipSyncVerdict,
  type SpeechVerdict,
} from '../model/delay/index.js';
import { formatTime } from '../values/quantity.js';

/** What a part of a delay is. */
export function partWords(part: DelayPart): string {
  return PARTS[part];
}

const PARTS: Readonly<Record<DelayPart, string>> = {
  sender: 'until it leaves',
  packets: 'packets',
  way: 'on the way',
  buffer: 'buffer',
  device: 'until it comes out',
};

/** What a part of a delay is reckoned from: `packet time, stated`. */
export function sourceWords({ from }: DelayItem): string {
  return `${SOURCES[from]}, ${basisOf(from)}`;
}

const SOURCES: Readonly<Record<DelaySource, string>> = {
  'stream delay': 'delay of the stream',
  'device delay': 'delay of the device',
  'packet time': 'packet time',
  'usual packet time': 'packet time of 1 ms by AES67 §7.2',
  'transmission offset': 'default offset by ST 2110-21',
  links: 'lengths at 5 µs/km, and delays of circuits',
  'receiver delay': 'delay of the receiver',
  'link offset': 'rest of the link offset',
};

/** What is not known, and what to write so that it is. */
export function gapWords({ lacks }: DelayGap): { readonly what: string; readonly write: string } {
  return GAPS[lacks];
}

const GAPS: Readonly<Record<DelayGap['lacks'], { readonly what: string; readonly write: string }>> = {
  'sender delay': {
    what: 'how long it takes until it leaves',
    write: 'give its stream or its device a `delay`',
  },
  'packet time': { what: 'its packet time', write: 'give its format a `packetTime`' },
  place: {
    what: 'its way through the network',
    write: 'give the interfaces at both ends a `port`, and list the `links` between',
  },
  length: { what: 'how long links are', write: 'give them a `length`, circuits a `delay`' },
  buffer: {
    what: 'how much the input buffers',
    write: 'give it a `delay`; for sound, or `timing` a `linkOffset`',
  },
  'device delay': {
    what: 'how long it takes from input to output',
    write: 'give the device a `delay`',
  },
  reception: {
    what: 'where the next device takes it',
    write: 'give that device a receiver that `takes` it',
  },
};

/** `12 ms`; microseconds are rounded to whole ones. */
export function timeWords(ns: number): string {
  return formatTime(ns >= 1e6 ? Math.round(ns / 1e4) * 1e4 : Math.round(ns / 10) * 10);
}

/** `sound 12 ms early`, `sound 3 ms late`. */
export function leadWords(leadNs: number): string {
  return leadNs === 0
    ? 'sound and picture together'
    : `sound ${timeWords(Math.abs(leadNs))} ${leadNs > 0 ? 'early' : 'late'}`;
}

/** How a pair stands against the published limits. */
export function lipSyncWords(verdict: LipSyncVerdict): string {
  return LIP_SYNC[verdict];
}

const LIP_SYNC: Readonly<Record<LipSyncVerdict, string>> = {
  inside: 'inside +40/-60 ms (EBU R 37)',
  'outside-r37': 'OUTSIDE +40/-60 ms (EBU R 37), inside +90/-185 ms (ITU-R BT.1359-1)',
  'outside-bt1359': 'OUTSIDE +90/-185 ms (ITU-R BT.1359-1)',
  open: 'NOT JUDGED against +40/-60 ms (EBU R 37): parts are not known',
};

/** How speech stands one way. */
export function speechWords(verdict: SpeechVerdict): string {
  return SPEECH[verdict];
}

const SPEECH: Readonly<Record<SpeechVerdict, string>> = {
  good: 'each way below 150 ms (ITU-T G.114)',
  slow: 'A WAY ABOVE 150 ms, below 400 ms (ITU-T G.114)',
  'too-slow': 'A WAY ABOVE 400 ms (ITU-T G.114)',
  open: 'NOT JUDGED against 150 ms a way (ITU-T G.114): parts are not known',
};
