/** What a trace says in words: reasons, rates and facts. */
import type { Hop, LegTrace, Stage, Why } from '../../model/explain/index.js';
import type { FloodReason, ForwardingSegment } from '../../model/network/index.js';
import type { Format, ReceiverLeg } from '../../plan/types.js';
import { formatAddress } from '../../values/address.js';
import { formatRate, formatTime } from '../../values/quantity.js';
import { prose, say, sayAll, sayNames, type Phrase } from '../../page/phrase.js';
import { counted } from '../../words/counts.js';

const MOST_JOINED = 4;
const ALIAS = 'one multicast MAC for the switch';

/** Why a port or link carries the stream, the first reason first. */
export function whyWords(whys: readonly Why[], isLink: boolean): Phrase {
  return sayAll(whys.map((why) => oneWhy(why, prose(isLink ? 'joined behind it' : 'joined'))));
}

function oneWhy(why: Why, joined: Phrase): Phrase {
  switch (why.kind) {
    case 'joined':
      return say`${joined} by ${receiversOf(why.by)}`;
    case 'same group':
      return say`${joined} for another source of the group by ${receiversOf(why.by)}`;
    case 'alias':
      return say`alias of ${groupsOf(why.by)}, ${joined} by ${receiversOf(why.by)}: ${prose(ALIAS)}`;
    case 'bound':
      return say`bound to the port at ${why.at.name}`;
    case 'addressed':
      return why.by.length === 0
        ? say`sent to ${why.to.name}`
        : say`sent to ${why.to.name}, for ${receiversOf(why.by)}`;
    case 'towards':
      if (why.what === 'set by hand') return say`router port towards ${why.on.name}, set by hand`;
      return say`towards ${why.what} ${why.on.name}`;
    case 'flooded':
      return say`flooded because ${prose(FLOODS[why.reason])}`;
  }
}

/** Why a stream goes to every port. */
export const FLOODS: Readonly<Record<FloodReason, string>> = {
  'snooping off': 'snooping is off',
  'flooded address': 'its multicast MAC is one that goes to every port',
  'no querier': 'nobody queries, and the switch then floods',
  'silent receiver': 'its receiver never speaks, and switches forget where it is',
  unregistered: 'nobody joined it, and groups nobody joined go to every port',
};

/** Names without numbers of legs: the heading says which leg it is. */
function receiversOf(legs: readonly ReceiverLeg[]): Phrase {
  return sayNames([...new Set(legs.map((leg) => leg.receiver.label))], MOST_JOINED);
}

function groupsOf(legs: readonly ReceiverLeg[]): Phrase {
  return sayNames(
    [...new Set(legs.flatMap((leg) => (leg.group === undefined ? [] : [formatAddress(leg.group)])))],
    MOST_JOINED,
  );
}

/** `9.42 of 100 Gbit/s`: what is carried of what can be. `atLeast` where streams of unknown rate may add to it. */
export function loadWords(loadBps: number, rateBps: number | undefined, atLeast: boolean): string {
  if (!atLeast) return shareWords(loadBps, rateBps);
  return loadBps > 0
    ? `at least ${shareWords(loadBps, rateBps)}`
    : `load not known${rateBps === undefined ? '' : `, of ${formatRate(rateBps)}`}`;
}

function shareWords(loadBps: number, rateBps: number | undefined): string {
  const load = formatRate(loadBps);
  if (rateBps === undefined) return `${load}, rate not stated`;
  const rate = formatRate(rateBps);
  const [number = '', unit] = load.split(' ');
  const short = unit === rate.split(' ')[1] ? number : load;
  return `${short} of ${rate}${loadBps > rateBps ? ', MORE THAN IT CARRIES' : ''}`;
}

/** What IGMP does in a segment, as far as the plan says. */
export function igmpWords({ plane: { conduct } }: Stage): Phrase {
  const version = conduct.version === undefined ? 'version not stated' : `version ${conduct.version}`;
  const snooping =
    conduct.snooping === undefined
      ? 'snooping not stated, taken for on'
      : `snooping ${conduct.snooping ? 'on' : 'off'}`;
  const stray =
    conduct.unregistered === undefined
      ? 'what becomes of groups nobody joined is not stated'
      : `groups nobody joined are ${conduct.unregistered === 'flood' ? 'flooded' : 'dropped'}`;
  return prose(`${version}; ${snooping}; ${stray}; a membership nobody renews ends after ${conduct.membershipS} s`);
}

/** Who queries, who does when that one fails. */
export function querierWords({ querier, plane: { conduct } }: Stage): Phrase {
  if (querier === undefined) {
    if (conduct.snooping === false) return say`none, and none needed while snooping is off`;
    if (conduct.routed) return say`none planned; the multicast router queries`;
    return say`none in the plan: switches that snoop then stop the stream when memberships end, or flood it`;
  }
  const name = (one: typeof querier): Phrase => {
    const address = one.address === undefined ? '' : formatAddress(one.address);
    if (one.on !== undefined) return address === '' ? say`${one.on.name}` : say`${one.on.name} ${address}`;
    return address === '' ? say`one that is not named` : say`${address}`;
  };
  const others = conduct.queriers.filter((one) => one !== querier);
  const why = others.length === 0 ? 'the only one planned' : `the lowest of ${conduct.queriers.length} addresses`;
  return others.length === 0
    ? say`${name(querier)}, ${prose(why)}`
    : say`${name(querier)}, ${prose(why)}; in reserve ${sayAll(others.map(name), ',')}`;
}

/** `ST 2110-20, 1920x1080, 50 Hz progressive, YCbCr-4:2:2, 10 bit`. */
export function formatWords(format: Format | undefined): Phrase {
  if (format === undefined) return say`not stated`;
  const rate =
    format.frameRate === undefined
      ? undefined
      : format.frameRate[1] === 1
        ? String(format.frameRate[0])
        : format.frameRate.join('/');
  const facts = [
    format.coding?.replace(/^st(\d+)/, 'ST $1'),
    format.width === undefined || format.height === undefined ? undefined : `${format.width}x${format.height}`,
    rate === undefined ? undefined : `${rate} frames a second${format.scan === undefined ? '' : ` ${format.scan}`}`,
    format.sampling,
    format.depth === undefined ? undefined : `depth ${format.depth}`,
    format.channels === undefined ? undefined : counted(format.channels, 'channel'),
    format.sampleRateHz === undefined ? undefined : `${format.sampleRateHz / 1000} kHz`,
    format.sampleBits === undefined ? undefined : `${format.sampleBits} bit`,
    format.packetTimeNs === undefined ? undefined : formatTime(format.packetTimeNs),
    format.rateBps === undefined ? undefined : formatRate(format.rateBps),
  ].filter((fact) => fact !== undefined);
  const said = prose(facts.length === 0 ? 'nothing more stated' : facts.join(', '));
  return format.name === undefined ? said : say`${format.name}: ${said}`;
}

/** What a leg puts on the wire. */
export function rateWords({ rate, rateLacks }: LegTrace): Phrase {
  if (rate !== undefined)
    return say`${formatRate(rate.onPort)} on a host port, ${formatRate(rate.onLink)} with its VLAN tag on a link`;
  return rateLacks.length === 0
    ? say`not known: the stream has no format`
    : say`not known: the format lacks ${sayNames(rateLacks)}`;
}

/** Whether a port gets the stream for no other reason than flooding. */
export function isFloodOnly(hop: Hop): boolean {
  return hop.kind === 'port' && hop.whys.every((why) => why.kind === 'flooded');
}

/** Which way a spanning tree leaves, and whether the plan says so. */
export function loopWords({ parts, segment }: ForwardingSegment): readonly Phrase[] {
  return parts.map(({ layout }) => {
    const root = segment.nodes.map(layout.rootOf).find((one) => one !== undefined);
    if (root === undefined) return prose('its switches run no spanning tree, and the links make a loop');
    return layout.doubts.length === 0
      ? say`of several ways this is the one the spanning tree leaves, with the root ${root.name}`
      : say`there are several ways and the plan does not say all that settles which one waits: the spanning tree's root is taken to be ${root.name}`;
  });
}
