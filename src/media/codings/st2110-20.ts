/** ST 2110-20: uncompressed video in RFC 4175 packets. */
import { IP_OCTETS, ratesPerPeriod, RTP_UDP_IP_OCTETS, STANDARD_UDP_OCTETS } from '../packet.js';
import {
  packBlocks,
  packByLine,
  packFull,
  SEGMENT_HEADER_OCTETS,
  SEQUENCE_OCTETS,
  type Lines,
  type Packed,
} from '../packing.js';
import { frameRateOf, partsOf, scanAssumptions } from '../picture.js';
import { isSampling, pixelGroup, type PixelGroup } from '../pixel-groups.js';
import { ratio } from '../ratio.js';
import { pictureAssumptions, pictureFormat, type SaidEssence, type SaidFacts, type SayingProblem } from '../said.js';
import { absent, known, lacking, type EssenceFacts, type RateOptions, type RateResult } from '../types.js';
import { defineCoding } from './coding.js';

export const uncompressedVideo = defineCoding({
  name: 'st2110-20',
  essence: 'video',
  comparedAs: 'st2110-20',
  payloadTypes: { dynamicOnly: true },
  rate: uncompressedVideoRate,
  transmissionOffsetNs,
  sdp: { encodings: ['raw'], states: ['picture', 'exact frame rate', 'frame rate'] },
  said: {
    title: 'uncompressed video',
    write: '`1080p50 4:2:2 10`',
    words: ['st2110-20', '2110-20', 'raw', 'uncompressed'],
    takes: ['picture', 'sampling', 'depth', 'packing', 'generalPacking', 'maxUdpOctets'],
    isMeantBy: ({ picture, sampleBits, bitsPerPixel }) =>
      picture !== undefined && sampleBits === undefined && bitsPerPixel === undefined,
    form: {
      title: 'uncompressed video',
      examples: ['1080p50', '1080i59.94', '2160p50 4:2:2 12', '1920x1200p60 rgb 8'],
      more: 'sampling, depth; fill or block packing; maxudp=8960',
    },
    read: readUncompressed,
  },
});

/** Rate of a ST 2110-20 stream. */
function uncompressedVideoRate(format: EssenceFacts, options: RateOptions): RateResult {
  const { width, height, sampling, depth } = format;
  const frameRate = frameRateOf(format);
  const wanting = absent({ width, height, 'frame rate': frameRate, sampling, depth });
  if (width === undefined || height === undefined || frameRate === undefined) return lacking(...wanting);
  if (sampling === undefined || depth === undefined) return lacking(...wanting);
  if (!isSampling(sampling)) return lacking('a sampling of ST 2110-20 §7.4.1, such as YCbCr-4:2:2');
  const group = pixelGroup(sampling, depth);
  if (group === undefined) return lacking(`a depth that ${sampling} has (ST 2110-20 §6.2)`);
  const parts = partsOf(format, height);
  if (group.lines === 2 && parts.length === 2) {
    return lacking('a progressive scan, the only one 4:2:0 has (ST 2110-20 §6.2.5)');
  }
  const plan = packingPlan(format, options);
  const packed: Packed[] = [];
  let sampleOctets = 0;
  for (const lines of parts) {
    const content = contentOf(width, lines, group);
    const part = plan.pack(content);
    if (part === undefined) return lacking(plan.misfit);
    packed.push(part);
    sampleOctets += content.lines * content.groupsPerLine * content.groupOctets;
  }
  const packets = sum(packed, (part) => part.packets);
  const segments = sum(packed, (part) => part.segments);
  const headers = packets * (RTP_UDP_IP_OCTETS + SEQUENCE_OCTETS) + segments * SEGMENT_HEADER_OCTETS;
  const largestUdpOctets = Math.max(...packed.map((part) => part.largestUdpOctets));
  const exact = ratesPerPeriod(frameRate, {
    packets,
    essenceOctets: ratio(width * height * group.octets, group.columns * group.lines),
    ipOctets: sampleOctets + headers,
  });
  return known(exact, {
    codingNote: `ST 2110-20, ${plan.note}`,
    largestUdpOctets,
    largestIpOctets: largestUdpOctets + IP_OCTETS,
    udpLimitOctets: plan.udpLimitOctets,
    packetsPerFrame: packets,
    basis: 'computed',
    assumptions: [...scanAssumptions(format), ...plan.assumptions],
  });
}

interface PackingPlan {
  readonly note: string;
  readonly pack: (content: Lines) => Packed | undefined;
  /** What to state where nothing can be packed so. */
  readonly misfit: string;
  readonly udpLimitOctets: number;
  readonly assumptions: readonly string[];
}

function packingPlan({ packing, maxUdpOctets }: EssenceFacts, { generalPacking }: RateOptions): PackingPlan {
  if (packing === 'block') {
    return {
      note: 'block packing',
      pack: packBlocks,
      misfit: 'general packing; its pixel groups or lines do not fit the blocks of ST 2110-20 §6.3.3',
      udpLimitOctets: STANDARD_UDP_OCTETS,
      assumptions: maxUdpOctets === undefined ? [] : [NO_LIMIT_IN_BLOCKS],
    };
  }
  const udpLimitOctets = maxUdpOctets ?? STANDARD_UDP_OCTETS;
  const way = generalPacking ?? (udpLimitOctets > STANDARD_UDP_OCTETS ? 'fill' : 'lines');
  return {
    note: packing === 'general' ? 'general packing' : 'general packing assumed',
    pack: (content) => (way === 'fill' ? packFull : packByLine)(content, udpLimitOctets),
    misfit: 'a largest datagram that holds a pixel group',
    udpLimitOctets,
    assumptions: [way === 'fill' ? FILLED : BY_LINE],
  };
}

const NO_LIMIT_IN_BLOCKS = 'the largest datagram stated is left out; block packing has none (ST 2110-20 §6.3.3)';
// General packing leaves the sender free (ST 2110-20 §6.3.2); its share of headers differs by one part in a hundred.
const BY_LINE = 'the sender splits every line into packets of like size, one segment each (it is free to do otherwise)';
const FILLED = 'the sender fills its packets across lines, up to three segments each (it is free to do otherwise)';

function contentOf(width: number, lines: number, group: PixelGroup): Lines {
  return {
    lines: Math.ceil(lines / group.lines),
    groupsPerLine: Math.ceil(width / group.columns),
    groupOctets: group.octets,
  };
}

function sum<Item>(items: readonly Item[], of: (item: Item) => number): number {
  return items.reduce((total, item) => total + of(item), 0);
}

/** The part of a frame that a sender waits by default (ST 2110-21): lines of blanking in all lines. */
function transmissionOffsetNs({ frameRate, height, scan }: EssenceFacts): number | undefined {
  if (frameRate === undefined || height === undefined || scan === undefined) return undefined;
  const [frames, seconds] = frameRate;
  const [lines, all] = scan === 'progressive' ? (height >= 1080 ? [43, 1125] : [28, 750]) : blankingOf(height);
  return Math.round((lines / all) * (seconds / frames) * 1e9);
}

function blankingOf(height: number): readonly [number, number] {
  if (height >= 1080) return [22, 1125];
  return height > 500 ? [26, 625] : [20, 525];
}

function readUncompressed(facts: Partial<SaidFacts>): SaidEssence | SayingProblem {
  const { picture, sampling, depth, packing, maxUdpOctets, generalPacking } = facts;
  if (picture === undefined) return { problem: 'uncompressed video has a picture; write `1080p50`' };
  if (packing === 'block' && generalPacking !== undefined) {
    return { problem: `\`block\` packing leaves the sender no choice; leave \`${generalPacking}\` out` };
  }
  return {
    format: {
      ...pictureFormat(picture),
      sampling: sampling ?? 'YCbCr-4:2:2',
      depth: depth ?? '10',
      packing,
      maxUdpOctets,
    },
    options: { generalPacking },
    assumptions: [
      ...pictureAssumptions(picture),
      ...(sampling === undefined ? ['sampling YCbCr-4:2:2'] : []),
      ...(depth === undefined ? ['depth 10 bit'] : []),
    ],
  };
}
