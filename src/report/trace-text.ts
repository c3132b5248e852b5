/** One stream's way, hop by hop, for a person. */
import type { Sink } from '../model/network/flows.js';
import type { Loss } from '../model/explain/trace-losses.js';
import type { Hop, LinkHop, PortHop } from '../model/explain/trace-hops.js';
import type { LegTrace, Stage, Trace } from '../model/explain/trace.js';
import { linkLabel, portLabel } from '../model/vlans/trunks.js';
import type { Interface, Leg, Receiver } from '../plan/types.js';
import { formatAddress } from '../values/address.js';
import { heading, joinBlocks, problemBlocks, rowWriter, type Row } from './blocks.js';
import { after, prose, wrap, type Piece } from './layout.js';
import { elementWords, vlanWords, writePlace } from './network-words.js';
import { createPaint, type Paint } from './paint.js';
import { CAUTION, type ReportOptions } from './reporter.js';
import { say, sayAll, sayNames } from './say.js';
import type { TraceResult } from './trace-result.js';
import {
  FLOODS,
  formatWords,
  igmpWords,
  isFloodOnly,
  loadWords,
  querierWords,
  rateWords,
  unreachedWords,
  whyWords,
} from './trace-words.js';
import { count } from './words.js';

/** Column in which the text beside a label starts. */
const INDENT = 13;
const MOST_ELEMENTS = 12;
const LOOPED =
  'the VLAN has more than one way between switches and the plan does not say which one waits: ' +
  'this is the way with fewest switches from the querier or router';
const MOST_UNREACHED = 12;

/** Plain text, wrapped to the width: what could not be read, each stream leg by leg, what takes it. */
export function reportTraceText({ traces, problems }: TraceResult, options: ReportOptions): string {
  const paint = createPaint(options.colour);
  const row = rowWriter(options, paint, INDENT);
  return joinBlocks([
    ...problemBlocks(problems, paint, options),
    ...traces.flatMap((trace) => [
      [...heading(`STREAM ${trace.sender.label}`, paint, options), ...about(trace, row)],
      ...trace.legs.flatMap((leg) => legBlocks(leg, row, paint, options)),
      [...heading('WHAT ALONE TAKES IT OFF AIR', paint, options), ...offAir(trace, row)],
    ]),
    row('Caution', prose(CAUTION)),
  ]);
}

function about({ sender, legs, unrated }: Trace, row: Row): readonly string[] {
  const without = unrated === 0 ? '' : `, without ${count(unrated, 'stream leg')} of unknown rate: at least`;
  const takers = new Set(
    legs
      .flatMap(({ stages, unreached }) => [...stages.flatMap((stage) => stage.reached), ...unreached])
      .map((one) => one.receiver.label),
  );
  return [
    ...(sender.rig.name === '' ? [] : row('Rig', say`${sender.rig.name}`)),
    ...row('Format', formatWords(sender.format)),
    ...row(
      'Taken by',
      takers.size === 0 ? say`nobody in the plan` : say`${count(takers.size, 'receiver')}: ${sayNames([...takers])}`,
    ),
    ...row('Loads', prose(`all streams together while nothing has failed${without}`)),
  ];
}

function legBlocks(trace: LegTrace, row: Row, paint: Paint, options: ReportOptions): readonly (readonly string[])[] {
  const { leg, stages, unreached } = trace;
  const [first, ...beyond] = stages;
  const where = leg.vlan === undefined ? '' : ` in VLAN ${vlanWords(leg.vlan)}`;
  return [
    [
      ...heading(`LEG ${leg.index + 1} of ${leg.sender.legs.length}: ${destination(leg)}${where}`, paint, options),
      ...row('Sent', sent(leg)),
      ...row('On the wire', rateWords(trace)),
      ...(first === undefined ? row('Way', unknownWay(trace)) : stageLines(first, trace, row, paint, options)),
    ],
    ...beyond.map((stage) => [
      ...row('Through', throughWords(stage), paint.heading),
      ...stageLines(stage, trace, row, paint, options),
    ]),
    [
      ...unreached
        .slice(0, MOST_UNREACHED)
        .flatMap((one, index) =>
          row(index === 0 ? 'Not reached' : '', say`${one.receiver.label}: ${unreachedWords(one.why)}`, paint.heading),
        ),
      ...(unreached.length > MOST_UNREACHED
        ? row('', prose(`and ${unreached.length - MOST_UNREACHED} more, all in the JSON report`))
        : []),
      ...(leg.sender.legs.length === 1 ? [] : lossRows('Lost with', trace.losses, receiversOf(stages), row)),
    ],
  ].filter((lines) => lines.length > 0);
}

function destination(leg: Leg): string {
  const to = leg.group ?? leg.unicast;
  return to === undefined ? 'destination not stated' : formatAddress(to);
}

function sent(leg: Leg): readonly Piece[] {
  const via =
    leg.interface === undefined ? say`from an interface that is not stated` : say`from ${interfaceName(leg.interface)}`;
  return sayAll(
    [
      via,
      leg.source === undefined ? prose('source address not stated') : prose(`source ${formatAddress(leg.source)}`),
      ...(leg.port === undefined ? [] : [prose(`UDP port ${leg.port}`)]),
      ...(leg.ttl === undefined ? [] : [prose(`TTL ${leg.ttl}`)]),
    ],
    ',',
  );
}

function unknownWay({ unknown }: LegTrace): readonly Piece[] {
  if (unknown === undefined) return prose('not known');
  return prose(
    unknown === 'group'
      ? 'not followed: the leg has no multicast group'
      : `not known, as the sender's ${unknown} is not: ${writePlace(unknown)}`,
  );
}

function throughWords({ through, forwarding }: Stage): readonly Piece[] {
  return say`${through?.name ?? ''} on into ${sayNames(forwarding.segment.domain.vlans.map(vlanWords))}`;
}

function stageLines(stage: Stage, trace: LegTrace, row: Row, paint: Paint, options: ReportOptions): readonly string[] {
  return [
    ...row('IGMP', igmpWords(stage, trace)),
    ...row('Querier', querierWords(stage)),
    ...(stage.flood === undefined ? [] : row('Flooded', prose(`everywhere, because ${FLOODS[stage.flood]}`))),
    ...(stage.forwarding.segment.looped ? row('Loop', prose(LOOPED)) : []),
    ...row('Way', wayStart(stage)),
    ...hopLines(stage.hops, stage, paint, options),
  ];
}

function wayStart({ entry, through, hops }: Stage): readonly Piece[] {
  const [first] = hops;
  if (entry === undefined)
    return say`starts at the router ${through?.name ?? (first?.kind === 'switch' ? first.switch.name : '')} itself`;
  const load = prose(loadWords(entry.load?.fromHost ?? 0, entry.rateBps));
  return say`in at ${portName(entry.interface)} from ${interfaceName(entry.interface)}: ${load}`;
}

/** Every line says how many links were crossed; setting in stops before it eats the width. */
function hopLines(
  hops: readonly Hop[],
  { forwarding }: Stage,
  paint: Paint,
  options: ReportOptions,
): readonly string[] {
  const deepest = Math.max(1, Math.floor(options.width / 8));
  const serves = new Map(hops.flatMap((hop) => (hop.kind === 'switch' ? [[hop.switch, hop.serves] as const] : [])));
  const write = (depth: number, label: string, pieces: readonly Piece[]): readonly string[] => {
    const indent = 2 + 2 * Math.min(depth, deepest);
    // Text lines start in even columns and go on in odd ones, so that no name passes for a line of its own.
    return wrap(say`${label} ${pieces}`, options.width - indent - 3).map((line, index) => {
      return (
        ' '.repeat(index === 0 ? indent : indent + 3) +
        (index === 0 ? paint.label(label) + line.slice(label.length) : line)
      );
    });
  };
  const [first] = hops;
  const lines: string[] =
    first?.kind === 'switch' ? [...write(0, 'switch', say`${first.switch.name}${duties(first.serves)}`)] : [];
  for (let index = 0; index < hops.length; index++) {
    const hop = hops[index];
    if (hop?.kind === 'link')
      lines.push(...write(hop.depth, `hop ${hop.depth}`, linkWords(hop, duties(serves.get(hop.to) ?? []))));
    if (hop?.kind !== 'port') continue;
    const flooded: PortHop[] = [];
    for (let next = hops[index]; next?.kind === 'port' && isFloodOnly(next); next = hops[++index]) flooded.push(next);
    if (flooded.length === 0) lines.push(...write(hop.depth + 1, 'out', portWords(hop)));
    else {
      index--;
      lines.push(...write(hop.depth + 1, 'out', floodedWords(flooded)));
    }
  }
  if (hops.length === 1 && forwarding.segment.nodes.length > 0)
    lines.push(...write(1, 'and', prose('no further: nobody asks for it')));
  return lines;
}

function linkWords(
  { links, waiting, to, loadBps, rateBps, whys }: LinkHop,
  serving: readonly Piece[],
): readonly Piece[] {
  const names = say`${links.length > 1 ? 'links' : 'link'} ${sayNames(links.map(linkLabel))}`;
  const spare = waiting.length === 0 ? names : say`${names} (${sayNames(waiting.map(linkLabel))} in wait)`;
  return say`${spare} into switch ${to.name}${serving}: ${prose(loadWords(loadBps, rateBps))}; ${whyWords(whys, true)}`;
}

function portWords({ interface: via, rateBps, load, whys }: PortHop): readonly Piece[] {
  const carries = prose(loadWords(load?.toHost ?? 0, rateBps));
  return say`${portName(via)} to ${interfaceName(via)}: ${carries}; ${whyWords(whys, false)}`;
}

function floodedWords(ports: readonly PortHop[]): readonly Piece[] {
  const [first] = ports;
  const hosts = sayNames(ports.map((port) => interfaceName(port.interface)));
  return say`${count(ports.length, 'port')} where nobody asked, to ${hosts}; ${whyWords(first?.whys ?? [], false)}`;
}

/** ` (queries)`: what a switch does for the segment besides passing frames on. */
function duties(serves: readonly Sink['why'][]): readonly Piece[] {
  if (serves.length === 0) return [];
  return after(say`(${serves.map((one) => (one === 'querier' ? 'queries' : 'routes')).join(', ')})`);
}

function offAir({ losses, legs }: Trace, row: Row): readonly string[] {
  const receivers = receiversOf(legs.flatMap(({ stages }) => stages));
  if (receivers.size === 0) return row('Nothing', prose('no receiver is known to get it now'));
  return lossRows('Takes it', losses, receivers, row);
}

function receiversOf(stages: readonly Stage[]): ReadonlySet<Receiver> {
  return new Set(stages.flatMap((stage) => stage.reached.map((leg) => leg.receiver)));
}

function lossRows(label: string, losses: readonly Loss[], all: ReadonlySet<Receiver>, row: Row): readonly string[] {
  const shown = losses.filter((loss) => !isOwn(loss));
  const entries = shown.map(({ receivers, elements }) => {
    const whole = receivers.length === all.size && all.size > 1;
    const who = whole
      ? say`from all ${String(all.size)}`
      : say`from ${sayNames(
          receivers.map((one) => one.label),
          4,
        )}`;
    return say`${who}: ${sayNames(elements.map(elementWords), MOST_ELEMENTS)}`;
  });
  const own = losses.length === shown.length ? [] : [prose('from each receiver: its own device and interface')];
  return [...entries, ...own].flatMap((entry, index) => row(index === 0 ? label : '', entry));
}

/** Nothing but the receivers' own device and its interfaces: said once, not for each. */
function isOwn({ receivers, elements }: Loss): boolean {
  return elements.every(({ thing }) =>
    receivers.every(({ device }) => thing === device || device.interfaces.some((one) => one === thing)),
  );
}

function portName({ port }: Interface): string {
  return port === undefined ? '' : portLabel(port);
}

function interfaceName(via: Interface): string {
  return `${via.device.name} ${via.name}`;
}
