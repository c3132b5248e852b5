import type { ProblemList } from '../problem-list.js';
import type { Placed, Tree } from '../tree.js';
import { readConnection, type Destination } from './connection.js';
import { isDuplicatedInside, midOf, readDuplicates } from './duplicates.js';
import { readEssence, readFormat, readPacketTime } from './format.js';
import { attributes, type Description, type Line, type MediaSection, type Section } from './lines.js';
import { readMediaLine, type MediaLine } from './media-line.js';
import { placed, spanOf, type Piece } from './piece.js';
import { readSourceFilters, sourcesFor, type SourceFilters } from './source-filter.js';

/** A stream before it is named. */
export interface Stream {
  /** What tells it from the other streams of its session: its `a=mid`, else the number of its `m=` line. */
  readonly label: string;
  readonly line: Line;
  readonly entries: Readonly<Record<string, Placed | undefined>>;
}

/** One destination of a medium, and the sources that are legs of their own. */
interface Flow {
  readonly destination: Destination;
  readonly port: Placed<number>;
  /** At least one entry; undefined where no source is known. */
  readonly sources: readonly (Piece | undefined)[];
}

interface Medium {
  readonly section: MediaSection;
  readonly line: MediaLine;
  readonly flows: readonly Flow[];
}

/** A bound against a file written to exhaust memory: far more media than a session of any rig has. */
const MOST_LEGS = 20_000;

/**
 * Streams of a session in the order of their first medium. Media that `a=group:DUP` ties together are one stream with
 * a leg each; a medium with `a=ssrc-group:DUP` is one with a leg per source; every other medium is a stream of its own,
 * or several when its `c=` or `m=` line counts groups or ports.
 */
export function readStreams(description: Description, tree: Tree, problems: ProblemList): readonly Stream[] {
  const media = readMedia(description, problems);
  const groups = readDuplicates(description, problems);
  const groupOf = new Map(groups.flatMap((group) => group.map((index) => [index, group] as const)));
  const done = new Set<readonly number[]>();
  return description.media.flatMap((_, index) => {
    const group = groupOf.get(index) ?? [index];
    if (done.has(group)) return [];
    done.add(group);
    const members = group.flatMap((member) => media[member] ?? []);
    return members.length === 0 ? [] : streamsOf(description.session, members, group, tree, problems);
  });
}

function readMedia({ session, media }: Description, problems: ProblemList): readonly (Medium | undefined)[] {
  const connections = session.lines.filter((line) => line.type === 'c');
  const filters = readSourceFilters(session, problems);
  let room = MOST_LEGS;
  let shared: readonly Destination[] | undefined;
  return media.map((section) => {
    if (problems.full || room < 0) return undefined;
    const line = readMediaLine(section.line, problems);
    if (line === undefined) return undefined;
    const flows = readFlows(section, line, destinationsOf(section, line), filters, problems);
    room -= flows.reduce((sum, { sources }) => sum + sources.length, 0);
    if (room < 0) {
      problems.add(spanOf(line.value), `more than ${MOST_LEGS} stream legs in one session`, 'split the session');
      return undefined;
    }
    return flows.length === 0 ? undefined : { section, line, flows };
  });

  function destinationsOf(section: MediaSection, line: MediaLine): readonly Destination[] {
    const own = section.lines.filter((one) => one.type === 'c');
    if (own.length > 0) return own.flatMap((one) => readConnection(one, problems));
    const [first, second] = connections;
    if (first === undefined) {
      problems.add(
        spanOf(line.value),
        'no `c=` line says where this medium is sent (RFC 8866 §5.7)',
        'write `c=IN IP4 239.1.2.3/32` below the `m=` line',
      );
      return [];
    }
    if (second !== undefined) {
      problems.add(
        spanOf(second.value),
        'a second `c=` line for the whole session leaves open which one counts (RFC 8866 §5.7)',
        'write one `c=` line before the first `m=` line, or one below each `m=` line',
      );
    }
    return (shared ??= readConnection(first, problems));
  }
}

/** RFC 8866 §5.14: as many ports as groups pair up one to one. */
function readFlows(
  section: MediaSection,
  line: MediaLine,
  destinations: readonly Destination[],
  sessionFilters: SourceFilters | undefined,
  problems: ProblemList,
): readonly Flow[] {
  const { ports } = line;
  const firstPort = ports[0];
  const only = destinations[0];
  // Any filter of the medium replaces all those of the session (RFC 4570 §3.1).
  const filters = readSourceFilters(section, problems) ?? sessionFilters;
  if (firstPort === undefined || only === undefined) return [];
  if (ports.length > 1 && destinations.length > 1 && ports.length !== destinations.length) {
    problems.add(
      spanOf(line.portPiece),
      `${ports.length} ports do not pair up with ${destinations.length} groups (RFC 8866 §5.14)`,
      'give the `m=` and the `c=` line the same count, or one of them none',
    );
    return [];
  }
  const duplicated = isDuplicatedInside(section);
  return Array.from({ length: Math.max(ports.length, destinations.length) }, (_, index) => {
    const destination = destinations[index] ?? only;
    const sources = sourcesFor(filters, destination.key);
    // A filter says who may send, not how many streams there are: without a DUP group its first source is the sender.
    const legs = duplicated && sources.length > 0 ? sources : [sources[0]];
    return { destination, port: ports[index] ?? firstPort, sources: legs };
  });
}

function streamsOf(
  session: Section,
  members: readonly Medium[],
  group: readonly number[],
  tree: Tree,
  problems: ProblemList,
): readonly Stream[] {
  const [first] = members;
  if (first === undefined) return [];
  const packetTime = readPacketTime(first.section, problems);
  const label = midOf(first.section)?.text ?? String((group[0] ?? 0) + 1);
  const count = members.reduce((most, { flows }) => Math.max(most, flows.length), 0);
  return Array.from({ length: count }, (_, index) => {
    const format = readFormat(first.section, first.line, tree, problems);
    const legs = members.flatMap((medium) => {
      const flow = medium.flows[index];
      const stated = format === undefined ? undefined : packetTime;
      return flow === undefined ? [] : legsOf(session, medium, flow, stated, tree, problems);
    });
    return {
      label: count === 1 ? label : `${label} ${index + 1}`,
      line: first.section.line,
      entries: {
        essence: format === undefined ? readEssence(first.line) : undefined,
        format,
        legs: tree.sequence(spanOf(first.section.line.whole), legs),
      },
    };
  });
}

function legsOf(
  session: Section,
  { section, line }: Medium,
  { destination, port, sources }: Flow,
  formatPacketTime: Placed<string> | undefined,
  tree: Tree,
  problems: ProblemList,
): readonly Placed[] {
  const packetTime = readPacketTime(section, problems);
  return sources.map((source) =>
    tree.mapping(spanOf(section.line.whole), {
      [destination.multicast ? 'group' : 'unicast']: destination.address,
      source: source && placed(source),
      port,
      payloadType: line.payloadType && placed(line.payloadType, Number(line.payloadType.text)),
      packetTime: packetTime?.value === formatPacketTime?.value ? undefined : packetTime,
      ttl: destination.ttl,
      referenceClock: clock(section, session, 'ts-refclk'),
      mediaClock: clock(section, session, 'mediaclk'),
    }),
  );
}

/** RFC 7273 §4.8 and §5.4: the medium's own lines replace the session's; several name clocks that agree. */
function clock(section: Section, session: Section, name: string): Placed<string> | undefined {
  const piece = attributes(section, name)[0] ?? attributes(session, name)[0];
  return piece === undefined || piece.text === '' || piece.text.length > 200 ? undefined : placed(piece);
}

/** The first line of the session itself of one type. */
export function sessionLine({ session }: Description, type: string): Line | undefined {
  return session.lines.find((line) => line.type === type);
}

/** `o=` without its version (RFC 8866 §5.2): what names this session, whatever its revision. */
export function readSession(description: Description): Placed<string> | undefined {
  const origin = sessionLine(description, 'o');
  const [user, id, version, network, family, address, extra] = origin?.value.text.split(/\s+/) ?? [];
  if (origin === undefined || address === undefined || extra !== undefined || version === undefined) return undefined;
  const value = [user, id, network, family, address].join(' ');
  return value.length > 1000 ? undefined : placed(origin.value, value);
}
