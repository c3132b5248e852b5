/** The kinds of boxes asked for by name, in the form a plan gives them, without numbers. Others go into the request by hand. */

/** One stream of a box. */
export interface CommonStream {
  readonly name: string;
  readonly format: CommonFormat;
}

export interface CommonKind {
  readonly name: string;
  readonly plural: string;
  /** What people write for it, in lower case and without blanks and hyphens. */
  readonly said: readonly string[];
  /** What the crew reads beside it. */
  readonly about: string;
  /** Rate of its media ports, as a plan writes it. */
  readonly rate: '1G' | '10G' | '25G';
  readonly senders: readonly CommonStream[];
  /** True for a clock that is meant to lead. */
  readonly leads: boolean;
}

/** Formats in the words of a plan: every fact stated, so that rates can be told. */
export const COMMON_FORMATS = {
  picture:
    "essence: video, coding: st2110-20, width: 1920, height: 1080, frameRate: 50, scan: progressive, sampling: 'YCbCr-4:2:2', depth: 10, packing: general",
  ancillary: 'essence: data, coding: st2110-40, frameRate: 50',
  'sound 8': 'essence: audio, coding: st2110-30, channels: 8, sampleRate: 48000, sampleBits: 24, packetTime: 125 us',
  'sound 2': 'essence: audio, coding: st2110-30, channels: 2, sampleRate: 48000, sampleBits: 24, packetTime: 1 ms',
  talk: 'essence: audio, coding: st2110-30, channels: 1, sampleRate: 48000, sampleBits: 24, packetTime: 1 ms',
} as const;

export type CommonFormat = keyof typeof COMMON_FORMATS;

/** In the order in which a request lists them. */
export const COMMON_KINDS: readonly CommonKind[] = [
  {
    name: 'camera',
    plural: 'cameras',
    said: ['camera', 'cameras', 'cam', 'cams'],
    about: 'Camera: picture, its own sound, ancillary data, talkback.',
    rate: '25G',
    senders: [
      { name: 'picture', format: 'picture' },
      { name: 'sound', format: 'sound 2' },
      { name: 'ancillary', format: 'ancillary' },
      { name: 'talk', format: 'talk' },
    ],
    leads: false,
  },
  {
    name: 'replay',
    plural: 'replay servers',
    said: ['replay', 'replays', 'replayserver', 'replayservers'],
    about: 'Replay server, four outputs.',
    rate: '25G',
    senders: [1, 2, 3, 4].map((number) => ({ name: `out-${number}`, format: 'picture' })),
    leads: false,
  },
  {
    name: 'graphics',
    plural: 'graphics',
    said: ['graphics', 'graphic', 'graphicscomputer', 'graphicscomputers'],
    about: 'Graphics, fill and key.',
    rate: '25G',
    senders: [
      { name: 'fill', format: 'picture' },
      { name: 'key', format: 'picture' },
    ],
    leads: false,
  },
  {
    name: 'stage-box',
    plural: 'stage boxes',
    said: ['stagebox', 'stageboxes'],
    about: 'Stage box, 32 microphones in four streams.',
    rate: '1G',
    senders: ['01-08', '09-16', '17-24', '25-32'].map((inputs) => ({ name: `mics-${inputs}`, format: 'sound 8' })),
    leads: false,
  },
  {
    name: 'audio-box',
    plural: 'audio boxes',
    said: ['audiobox', 'audioboxes'],
    about: 'Small audio box, two pairs.',
    rate: '1G',
    senders: [
      { name: 'pair-1', format: 'sound 2' },
      { name: 'pair-2', format: 'sound 2' },
    ],
    leads: false,
  },
  {
    name: 'commentary',
    plural: 'commentary positions',
    said: ['commentary', 'commentaryposition', 'commentarypositions', 'commentarybox', 'commentaryboxes'],
    about: 'Commentary position, two headsets and talkback.',
    rate: '1G',
    senders: [
      { name: 'mic-1', format: 'sound 2' },
      { name: 'mic-2', format: 'sound 2' },
      { name: 'talk', format: 'talk' },
    ],
    leads: false,
  },
  {
    name: 'panel',
    plural: 'intercom panels',
    said: ['panel', 'panels', 'intercompanel', 'intercompanels'],
    about: 'Intercom panel.',
    rate: '1G',
    senders: [{ name: 'talk', format: 'talk' }],
    leads: false,
  },
  {
    name: 'clock',
    plural: 'clocks',
    said: ['clock', 'clocks', 'grandmaster', 'grandmasters', 'grandmasterclock', 'grandmasterclocks'],
    about: 'PTP clock, meant to lead.',
    rate: '1G',
    senders: [],
    leads: true,
  },
];
