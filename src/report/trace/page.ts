/** One stream's way, hop by hop, for a person. */
import { isNonEmpty, type NonEmpty } from '../../collections/non-empty.js';
import { findingText, SEVERITIES } from '../../lint/finding.js';
import type { Sink } from '../../model/network/index.js';
import type { LegTrace, LinkHop, Loss, PortHop, Stage, Trace } from '../../model/explain/index.js';
import { linkLabel, portLabel } from '../../model/vlans/index.js';
import type { Interface, Leg, Receiver } from '../../plan/types.js';
import { formatAddress, isIPv4 } from '../../values/address.js';
import type { Block, OutlineLine, Page, Part, Row } from '../../page/page.js';
import { label, prose, say, sayAll, sayNames, type Phrase } from '../../page/phrase.js';
import { block, capped, headed, outline, row, rowsPart, titled } from '../../page/rows.js';
import { choiceLabel } from '../../words/labels.js';
import { agree, counted } from '../../words/counts.js';
import { elementWords, vlanWords, writePlace } from '../../words/network.js';
import { cautionRow } from '../caution.js';
import { problemBlocks } from '../problems.js';
import type { TraceResult } from '../../answers/trace.js';
import { STOPS, unreachedWords } from '../verdict-words.js';
import {
  FLOODS,
  formatWords,
  igmpWords,
  isFloodOnly,
  loadWords,
  loopWords,
  querierWords,
  rateWords,
  whyWords,
} from './words.js';

const LABEL_ROOM = 13;
const MOST_ELEMENTS = 12;
const MOST_UNREACHED = 12;

/** What could not be read, each stream leg by leg, what takes it. */
export function tracePage({ traces, findings, problems }: TraceResult): Page {
  return {
    blocks: [
      ...problemBlocks(problems),
      ...traces.flatMap((trace) => [
        headed(`STREAM ${trace.sender.label}`, ...rows([...found(findings), ...about(trace)])),
        ...trace.legs.flatMap((leg) => legBlocks(leg)),
        headed('WHAT ALONE TAKES IT OFF AIR', ...rows(offAir(trace))),
      ]),
      ...block(...rows(cautionRow())),
    ],
  };
}

function rows(list: readonly Row[]): readonly Part[] {
  return rowsPart(LABEL_ROOM, list);
}

/** One line each, the worst first. */
function found(findings: TraceResult['findings']): readonly Row[] {
  if (findings === undefined) return [];
  const sorted = findings.toSorted((a, b) => SEVERITIES.indexOf(a.severity) - SEVERITIES.indexOf(b.severity));
  const lines = sorted.map((one) => say`${one.severity.toUpperCase()} ${one.rule}: ${prose(findingText(one).what)}`);
  return row('Findings', ...(lines.length === 0 ? [prose('lint finds nothing about this stream')] : lines));
}

function about({ sender, legs, unrated, worstChoice }: Trace): readonly Row[] {
  const without =
    unrated === 0 ? '' : `, without ${counted(unrated, 'stream leg')} of unknown rate: "at least" where one may pass`;
  const takers = new Set(
    legs
      .flatMap(({ stages, unreached }) => [
        ...stages.flatMap(({ reached }) => reached.map((one) => one.receiver)),
        ...unreached.map((one) => one.receiver),
      ])
      .map(choiceLabel),
  );
  return [
    ...(sender.rig.name === '' ? [] : row('Rig', say`${sender.rig.name}`)),
    ...row('Format', formatWords(sender.format)),
    ...row(
      'Taken by',
      takers.size === 0 ? say`nobody in the plan` : say`${counted(takers.size, 'receiver')}: ${sayNames([...takers])}`,
    ),
    ...row(
      'Loads',
      prose(
        `all streams together while nothing has failed${worstChoice ? ', in the worst choice of inputs for each link and port' : ''}${without}`,
      ),
    ),
  ];
}

function legBlocks(trace: LegTrace): readonly Block[] {
  const { leg, stages } = trace;
  const [first, ...beyond] = stages;
  const where = leg.vlan === undefined ? '' : ` in VLAN ${vlanWords(leg.vlan)}`;
  return [
    headed(
      `LEG ${leg.index + 1} of ${leg.sender.legs.length}: ${destination(leg)}${where}`,
      ...rows([...row('Sent', sent(leg)), ...row('On the wire', rateWords(trace))]),
      ...(first === undefined ? rows(row('Way', unknownWay(trace))) : stageParts(first, trace)),
    ),
    ...beyond.flatMap((stage) => block(...rows(titled('Through', throughWords(stage))), ...stageParts(stage, trace))),
    ...block(...rows([...endsEarly(trace), ...notReached(trace), ...lostWith(trace)])),
  ];
}

/** Why a leg to one address is not followed to its end, whoever takes it. */
function endsEarly({ stop, stages }: LegTrace): readonly Row[] {
  return stop === undefined || stages.length === 0 ? [] : row('Ends there', prose(STOPS[stop]));
}

function notReached({ unreached }: LegTrace): readonly Row[] {
  const texts = unreached.map(({ receiver, why }) => say`${receiver.label}: ${unreachedWords(why)}`);
  return titled(
    'Not reached',
    ...capped(texts, MOST_UNREACHED, (left) => prose(`and ${left} more, all in the JSON report`)),
  );
}

function isIPv6({ leg }: LegTrace): boolean {
  return leg.group !== undefined && !isIPv4(leg.group);
}

/** Said for the stream as a whole where it has one leg only. */
function lostWith({ leg, losses, stages }: LegTrace): readonly Row[] {
  return leg.sender.legs.length === 1 ? [] : lossRows('Lost with', losses, receiversOf(stages));
}

function destination(leg: Leg): string {
  const to = leg.group ?? leg.unicast;
  return to === undefined ? 'destination not stated' : formatAddress(to);
}

function sent(leg: Leg): Phrase {
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

function unknownWay({ unknown, stop, leg }: LegTrace): Phrase {
  if (unknown === undefined) return prose(stop === undefined ? 'not known' : STOPS[stop]);
  if (unknown === 'port outside VLAN')
    return say`none: the switch port of the sender does not carry ${leg.vlan === undefined ? '' : vlanWords(leg.vlan)}`;
  return prose(
    unknown === 'group'
      ? 'not followed: the leg has neither a multicast group nor an address'
      : `not known, as the sender's ${unknown} is not: ${writePlace(unknown)}`,
  );
}

function throughWords({ through, forwarding }: Stage): Phrase {
  return say`${through?.name ?? ''} on into ${sayNames(forwarding.segment.domain.vlans.map(vlanWords))}`;
}

function stageParts(stage: Stage, trace: LegTrace): readonly Part[] {
  return [
    ...rows([
      // Nothing snoops on a routed link, and nobody queries there.
      ...(stage.toGroup && !isRoutedLink(stage)
        ? [...row(isIPv6(trace) ? 'MLD' : 'IGMP', igmpWords(stage)), ...row('Querier', querierWords(stage))]
        : []),
      ...(stage.flood === undefined ? [] : row('Flooded', prose(`everywhere, because ${FLOODS[stage.flood]}`))),
      ...row('Loop', ...loopWords(stage.forwarding)),
      ...row('Way', wayStart(stage)),
    ]),
    ...outline(hopLines(stage)),
  ];
}

function isRoutedLink({ forwarding }: Stage): boolean {
  return forwarding.segment.domain.vlans.every(({ transit }) => transit !== undefined);
}

function wayStart({ entry, through, hops }: Stage): Phrase {
  const [first] = hops;
  if (entry === undefined)
    return say`starts at the router ${through?.name ?? (first?.kind === 'switch' ? first.switch.name : '')} itself`;
  const load = prose(loadWords(entry.load?.fromHost ?? 0, entry.rateBps, entry.atLeast));
  return say`in at ${portName(entry.interface)} from ${interfaceName(entry.interface)}: ${load}`;
}

/** Every line says how many links were crossed. */
function hopLines({ hops, forwarding, toGroup, onward }: Stage): readonly OutlineLine[] {
  const serves = new Map(hops.flatMap((hop) => (hop.kind === 'switch' ? [[hop.switch, hop.serves] as const] : [])));
  const [first] = hops;
  const passing = onward.filter(({ drops }) => !drops);
  const lines: OutlineLine[] =
    first?.kind === 'switch' ? [lineAt(0, 'switch', say`${first.switch.name}${duties(first.serves)}`)] : [];
  for (let index = 0; index < hops.length; index++) {
    const hop = hops[index];
    if (hop?.kind === 'link')
      lines.push(lineAt(hop.depth, `hop ${hop.depth}`, linkWords(hop, duties(serves.get(hop.to) ?? []))));
    if (hop?.kind !== 'port') continue;
    const flooded: PortHop[] = [];
    for (let next = hops[index]; next?.kind === 'port' && isFloodOnly(next); next = hops[++index]) flooded.push(next);
    if (isNonEmpty(flooded)) {
      index--;
      lines.push(lineAt(hop.depth + 1, 'out', floodedWords(flooded)));
    } else lines.push(lineAt(hop.depth + 1, 'out', portWords(hop)));
  }
  if (hops.length === 1 && forwarding.segment.nodes.length > 0)
    lines.push(
      lineAt(
        1,
        'and',
        passing.length === 0
          ? prose(toGroup && onward.length === 0 ? 'no further: nobody asks for it' : 'no further')
          : say`${sayNames(passing.map(({ on }) => on.name))} ${agree(passing.length, 'routes', 'route')} it on`,
      ),
    );
  const dropping = onward.filter(({ drops }) => drops).map(({ on }) => on.name);
  if (dropping.length > 0)
    lines.push(
      lineAt(1, 'and', say`${sayNames(dropping)} ${agree(dropping.length, 'drops', 'drop')} it: it comes with TTL 1`),
    );
  return lines;
}

function lineAt(depth: number, what: string, text: Phrase): OutlineLine {
  return { depth, text: say`${label(what)} ${text}` };
}

function linkWords(hop: LinkHop, serving: Phrase): Phrase {
  const { links, waiting, to, loadBps, rateBps, memberBps, atLeast, whys } = hop;
  const names = say`${agree(links.length, 'link')} ${sayNames(links.map(linkLabel))}`;
  const spare = waiting.length === 0 ? names : say`${names} (${sayNames(waiting.map(linkLabel))} waiting)`;
  const worst =
    memberBps === undefined
      ? []
      : say`, spread evenly at best, at worst ${prose(loadWords(loadBps, memberBps, atLeast))} on one member`;
  return say`${spare} into switch ${to.name}${serving}: ${prose(loadWords(loadBps, rateBps, atLeast))}${worst}; ${whyWords(whys, true)}`;
}

function portWords({ interface: via, rateBps, load, atLeast, whys }: PortHop): Phrase {
  const carries = prose(loadWords(load?.toHost ?? 0, rateBps, atLeast));
  return say`${portName(via)} to ${interfaceName(via)}: ${carries}; ${whyWords(whys, false)}`;
}

function floodedWords(ports: NonEmpty<PortHop>): Phrase {
  const [{ whys }] = ports;
  const hosts = sayNames(ports.map((port) => interfaceName(port.interface)));
  return say`${counted(ports.length, 'port')} where nobody asked, to ${hosts}; ${whyWords(whys, false)}`;
}

/** ` (queries)`: what a switch does for the segment besides passing frames on. */
function duties(serves: readonly Sink['why'][]): Phrase {
  if (serves.length === 0) return [];
  return say` (${serves.map((one) => (one === 'querier' ? 'queries' : 'routes')).join(', ')})`;
}

function offAir({ losses, legs }: Trace): readonly Row[] {
  const receivers = receiversOf(legs.flatMap(({ stages }) => stages));
  if (receivers.size === 0) return row('Nothing', prose('no receiver is known to get it now'));
  return lossRows('Takes it', losses, receivers);
}

function receiversOf(stages: readonly Stage[]): ReadonlySet<Receiver> {
  return new Set(stages.flatMap((stage) => stage.reached.map((leg) => leg.receiver)));
}

function lossRows(what: string, losses: readonly Loss[], all: ReadonlySet<Receiver>): readonly Row[] {
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
  return row(what, ...entries, ...own);
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
