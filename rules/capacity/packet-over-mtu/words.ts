import {
  agree,
  byLabel,
  formatTime,
  listNames,
  portsBySwitch,
  type FindingWords,
  type NonEmpty,
  type Port,
  type Vlan,
} from '../../../src/doors/rule.js';

interface FormatFacts {
  /** Its name; a format without one has one stream here. */
  readonly format: string | undefined;
  readonly streams: readonly string[];
}

/** More sound in a packet than it may hold. */
interface DatagramFacts extends FormatFacts {
  readonly form: 'datagram';
  readonly channels: number;
  readonly packetTimeNs: number;
  /** Of sound in a packet, and at most. */
  readonly octets: number;
  readonly mostOctets: number;
  /** 0 where not even one channel fits, or the plan does not tell. */
  readonly mostChannels: number;
}

/** Packets larger than something on the way takes. */
interface WayFacts extends FormatFacts {
  readonly ipOctets: number;
  /** The smallest MTU on the way. */
  readonly takesOctets: number;
  /** The largest datagram it has room for. */
  readonly mostUdpOctets: number;
}

export type Facts =
  | DatagramFacts
  | (WayFacts & { readonly form: 'vlan'; readonly vlan: Vlan })
  | (WayFacts & { readonly form: 'ports'; readonly ports: NonEmpty<Port> });

export type Note = { readonly channels: number } | { readonly packetTimeNs: number } | { readonly mtuOctets: number };

export function words(facts: Facts): FindingWords<Note> {
  return { ...(facts.form === 'datagram' ? datagramWords(facts) : wayWords(facts)), label };
}

/** `1080p50 large`, or `the format of cam-1/video`. */
export function formatTitle(format: string | undefined, stream: string): string {
  return format ?? `the format of ${stream}`;
}

function label(name: string, note: Note): string {
  if ('channels' in note) return `${name}: ${note.channels} channels`;
  return 'mtuOctets' in note ? `${name}: MTU ${note.mtuOctets}` : `${name}: ${formatTime(note.packetTimeNs)}`;
}

function datagramWords(facts: DatagramFacts): FindingWords {
  const { channels, packetTimeNs, octets, mostOctets, mostChannels } = facts;
  const time = formatTime(packetTimeNs);
  return {
    what: `${titleOf(facts)} puts ${channels} channels of ${time} into packets of ${octets} octets of sound, ${mostOctets} at most; ${streamsWords(facts)}`,
    onAir:
      'the sender refuses the setting or sends shorter packets than its description says: receivers refuse the stream, or play it with clicks',
    fix:
      mostChannels > 0
        ? `send ${mostChannels} channels at most in packets of ${time}, or shorter packets`
        : 'send shorter packets',
  };
}

function wayWords(facts: Exclude<Facts, DatagramFacts>): FindingWords {
  const { ipOctets, takesOctets, mostUdpOctets } = facts;
  const narrow =
    facts.form === 'vlan'
      ? `VLAN ${facts.vlan.name} takes ${takesOctets}`
      : `ports on the way take less, down to ${takesOctets}: ${listNames(portsBySwitch(facts.ports))}`;
  return {
    what: `${titleOf(facts)} sends IP packets of up to ${ipOctets} octets, and ${narrow}; ${streamsWords(facts)}`,
    onAir:
      'switches drop what is too large without a message, and senders must not break it up: no picture at all, while pings and small streams pass',
    fix: `raise the MTU to ${ipOctets} or more on every port on the path and in the plan, or let the format keep to ${mostUdpOctets} octets of UDP`,
  };
}

function titleOf({ format, streams: [stream] }: FormatFacts): string {
  return formatTitle(format, stream ?? '');
}

function streamsWords({ streams }: FormatFacts): string {
  const names = byLabel(streams, (name) => name);
  return `${listNames(names, 4)} ${agree(names.length, 'is', 'are')} sent so`;
}
