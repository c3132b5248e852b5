/** The kinds of boxes asked for by name, in the form a plan gives them, without numbers. Others go into the request by hand. */

/** One stream of a box. */
export interface CommonStream {
  readonly name: string;
  readonly format: CommonFormat;
}

/** Receivers of one sort: `in-1`, `in-2` and on, or the name alone where there is one at most. */
export interface CommonInput {
  readonly name: string;
  readonly takes: CommonMatter;
  readonly most: number;
}

export interface CommonKind {
  readonly name: string;
  readonly plural: string;
  /** What people write for it, in lower case and without blanks and hyphens. */
  readonly said: readonly string[];
  /** What the crew reads beside it. */
  readonly about: string;
  /** Rate of its media ports, as a plan writes it. */
  readonly rate: '1G' | '10G' | '25G' | '100G';
  readonly senders: readonly CommonStream[];
  /** What it can take. */
  readonly inputs: readonly CommonInput[];
  /** Names of the kinds it usually takes from, the first served first. */
  readonly takesFrom: readonly string[];
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

/** What a receiver has to be able to take, whatever its format. */
export type CommonMatter = 'picture' | 'ancillary' | 'sound' | 'talk';

export const MATTER: Readonly<Record<CommonFormat, CommonMatter>> = {
  picture: 'picture',
  ancillary: 'ancillary',
  'sound 8': 'sound',
  'sound 2': 'sound',
  talk: 'talk',
};

const lines = (most: number): CommonInput => ({ name: 'line', takes: 'talk', most });
const returns = (most: number): CommonInput => ({ name: 'return', takes: 'sound', most });

/** In the order in which a request lists them. */
export const COMMON_KINDS: readonly CommonKind[] = [
  {
    name: 'camera',
    plural: 'cameras',
    said: ['camera', 'cameras', 'cam', 'cams'],
    about: 'Camera: picture, its own sound, ancillary data, talkback, return picture.',
    rate: '25G',
    senders: [
      { name: 'picture', format: 'picture' },
      { name: 'sound', format: 'sound 2' },
      { name: 'ancillary', format: 'ancillary' },
      { name: 'talk', format: 'talk' },
    ],
    inputs: [{ name: 'return', takes: 'picture', most: 1 }, lines(2)],
    takesFrom: ['vision-mixer', 'intercom-matrix'],
    leads: false,
  },
  {
    name: 'vision-mixer',
    plural: 'vision mixers',
    said: ['visionmixer', 'visionmixers', 'switcher', 'switchers'],
    about: 'Vision mixer, programme and clean feed, up to 24 inputs.',
    rate: '100G',
    senders: [
      { name: 'programme', format: 'picture' },
      { name: 'clean', format: 'picture' },
    ],
    inputs: [
      { name: 'in', takes: 'picture', most: 24 },
      { name: 'data', takes: 'ancillary', most: 24 },
    ],
    takesFrom: ['camera', 'replay', 'graphics', 'gateway'],
    leads: false,
  },
  {
    name: 'multiviewer',
    plural: 'multiviewers',
    said: ['multiviewer', 'multiviewers', 'monitorwall', 'monitorwalls'],
    about: 'Multiviewer, up to 36 pictures.',
    rate: '100G',
    senders: [],
    inputs: [{ name: 'in', takes: 'picture', most: 36 }],
    takesFrom: ['vision-mixer', 'camera', 'replay', 'graphics', 'gateway'],
    leads: false,
  },
  {
    name: 'gateway',
    plural: 'gateways',
    said: ['gateway', 'gateways', 'sdigateway', 'sdigateways'],
    about: 'Gateway to and from SDI, four pictures each way.',
    rate: '25G',
    senders: [1, 2, 3, 4].map((number) => ({ name: `from-${number}`, format: 'picture' })),
    inputs: [{ name: 'to', takes: 'picture', most: 4 }],
    takesFrom: ['vision-mixer'],
    leads: false,
  },
  {
    name: 'replay',
    plural: 'replay servers',
    said: ['replay', 'replays', 'replayserver', 'replayservers'],
    about: 'Replay server, four outputs, up to eight inputs.',
    rate: '25G',
    senders: [1, 2, 3, 4].map((number) => ({ name: `out-${number}`, format: 'picture' })),
    inputs: [
      { name: 'in', takes: 'picture', most: 8 },
      { name: 'data', takes: 'ancillary', most: 8 },
      { name: 'sound', takes: 'sound', most: 8 },
    ],
    takesFrom: ['camera', 'mixing-desk'],
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
    inputs: [{ name: 'background', takes: 'picture', most: 1 }],
    takesFrom: ['vision-mixer'],
    leads: false,
  },
  {
    name: 'mixing-desk',
    plural: 'mixing desks',
    said: ['mixingdesk', 'mixingdesks', 'sounddesk', 'sounddesks', 'audiomixer', 'audiomixers', 'desk', 'desks'],
    about: 'Mixing desk, mix and foldback, up to 64 streams of sound.',
    rate: '10G',
    senders: [
      { name: 'mix', format: 'sound 2' },
      { name: 'foldback', format: 'sound 2' },
    ],
    inputs: [{ name: 'in', takes: 'sound', most: 64 }],
    takesFrom: ['stage-box', 'audio-box', 'commentary', 'camera'],
    leads: false,
  },
  {
    name: 'stage-box',
    plural: 'stage boxes',
    said: ['stagebox', 'stageboxes'],
    about: 'Stage box, 32 microphones in four streams.',
    rate: '1G',
    senders: ['01-08', '09-16', '17-24', '25-32'].map((inputs) => ({ name: `mics-${inputs}`, format: 'sound 8' })),
    inputs: [returns(2)],
    takesFrom: ['mixing-desk'],
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
    inputs: [returns(2)],
    takesFrom: ['mixing-desk'],
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
    inputs: [returns(2), lines(2)],
    takesFrom: ['mixing-desk', 'intercom-matrix'],
    leads: false,
  },
  {
    name: 'panel',
    plural: 'intercom panels',
    said: ['panel', 'panels', 'intercompanel', 'intercompanels'],
    about: 'Intercom panel.',
    rate: '1G',
    senders: [{ name: 'talk', format: 'talk' }],
    inputs: [lines(2)],
    takesFrom: ['intercom-matrix'],
    leads: false,
  },
  {
    name: 'intercom-matrix',
    plural: 'intercom matrices',
    said: ['intercommatrix', 'intercommatrices', 'intercommatrixes', 'matrix', 'matrices'],
    about: 'Intercom matrix, two party lines, up to 64 stations.',
    rate: '1G',
    senders: [
      { name: 'line-1', format: 'talk' },
      { name: 'line-2', format: 'talk' },
    ],
    inputs: [{ name: 'station', takes: 'talk', most: 64 }],
    takesFrom: ['panel', 'camera', 'commentary'],
    leads: false,
  },
  {
    name: 'clock',
    plural: 'clocks',
    said: ['clock', 'clocks', 'grandmaster', 'grandmasters', 'grandmasterclock', 'grandmasterclocks'],
    about: 'PTP clock, meant to lead.',
    rate: '1G',
    senders: [],
    inputs: [],
    takesFrom: [],
    leads: true,
  },
];
