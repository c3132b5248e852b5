/** Steps that follow where switches and links between them differ. */
import { formatRange } from '../values/address.js';
import type { Binding, Link, LinkEnd, Port, RouterPorts, Switch, SwitchAddress, TreeInstance } from '../plan/types.js';
import { networkOfPort, networkOfSwitch } from './carriers.js';
import { isTie, type Context } from './context.js';
import {
  entrySteps,
  factSteps,
  FROM_CARD,
  holding,
  numeral,
  setOf,
  setOfValues,
  step,
  type Facts,
  type StepPlace,
  yesNo,
} from './facts.js';
import { addressKey, portKey, switchKeys } from './held.js';
import { keyOf, pairUp } from './pairing.js';
import { portRanges } from './port-names.js';
import type { Step } from './steps.js';
import { addressText, macText, rateText, timeText, vlanText, vlanValue } from './values.js';
import { agree } from '../words/counts.js';

export function switchSteps(context: Context): readonly Step[] {
  const { switches, identity } = context.pairing;
  return [
    ...switches.both.flatMap(([before, after]) => changed(before, after, context)),
    ...switches.gone.flatMap((one) =>
      holding(
        [step(boxPlace(one), 'remove', 'switch', one.name, undefined)],
        switchKeys(one, context.endsBefore(one), identity),
        [],
      ),
    ),
    // Its cables are steps of their own, as they make a network of it.
    ...switches.fresh.flatMap((one) =>
      holding(
        [step({ ...boxPlace(one), why: FROM_CARD }, 'add', 'switch', undefined, one.name)],
        [],
        one.addresses.map(({ address }) => addressKey(address)),
      ),
    ),
  ];
}

function changed(before: Switch, after: Switch, context: Context): readonly Step[] {
  const place = boxPlace(after);
  const paper: StepPlace = { ...place, box: { kind: 'plan', name: after.name }, part: 'paper' };
  return [
    ...(before.name === after.name ? [] : [step(place, 'rename', 'name', before.name, after.name)]),
    ...factSteps(place, boxFacts(before), boxFacts(after)),
    ...factSteps(paper, paperFacts(before), paperFacts(after)),
    ...portSteps(place, before, after, context),
    ...addressSteps(place, before.addresses, after.addresses, context),
  ];
}

function boxFacts(one: Switch): Facts {
  return {
    area: one.area,
    'power feed': setOf(one.power),
    'unregistered groups': one.unregistered,
    'without querier': one.noQuerier,
    'acts as one in': one.pair?.name,
    'streams go by': one.forwarding,
    'bound groups': setOf(one.bindings.map(boundText)),
    'router ports': setOf(one.routerPorts.map(portsText)),
    'spanning tree': treeWords(one),
    MTU: numeral(one.mtu, 'octets'),
  };
}

function boundText(entry: Binding): string {
  return `${entry.groups.map(formatRange).join(', ')} to ${portsText(entry)}`;
}

function portsText({ vlan, ports }: RouterPorts): string {
  return `${portRanges(ports.map(({ name }) => name))}${vlan === undefined ? '' : ` in VLAN ${vlan.name}`}`;
}

/** `rstp, priority 4096`. */
function treeWords({ spanningTree: own }: Switch): string | undefined {
  if (own === undefined) return undefined;
  const { mode, priority, mac, method, bpdus, instances } = own;
  return [
    mode,
    ...(priority === undefined ? [] : [`priority ${priority}`]),
    ...(mac === undefined ? [] : [`address ${macText(mac) ?? ''}`]),
    ...(method === undefined ? [] : [`${method} costs`]),
    ...(bpdus === undefined ? [] : [`BPDUs ${bpdus === 'pass' ? 'passed' : 'dropped'}`]),
    ...(instances ?? []).map(instanceText),
  ].join(', ');
}

/** `instance 1 of VLANs red-video and comms at 4096`. */
function instanceText({ number, vlans, priority }: TreeInstance): string {
  const names = vlans.map(({ name }) => name).join(' and ');
  return `instance ${number} of ${vlans.length === 1 ? 'VLAN' : 'VLANs'} ${names}${priority === undefined ? '' : ` at ${priority}`}`;
}

/** What a switch is, rather than what it is set to. */
function paperFacts(one: Switch): Facts {
  return {
    snooping: yesNo(one.snooping),
    'snooping key': one.snoopingKey,
    'group table': numeral(one.groupTableSize),
    'full table': one.tableFull,
  };
}

/** Ports that change alike are one step. */
function portSteps(box: StepPlace, before: Switch, after: Switch, context: Context): readonly Step[] {
  const alike = new Map<string, { readonly step: Step; readonly ports: string[] }>();
  const names = new Set([...before.ports.keys(), ...after.ports.keys()]);
  for (const name of names) {
    const old = before.ports.get(name);
    const now = after.ports.get(name);
    const port = now ?? old;
    const network = port === undefined ? undefined : networkOfPort(port);
    const place: StepPlace = { ...box, network: network?.name, joins: now !== undefined && context.isTied(now) };
    for (const one of factSteps(place, portFacts(old, context), portFacts(now, context))) {
      const key = keyOf(
        one.network ?? '',
        one.what,
        one.old ?? '',
        one.new ?? '',
        one.old === undefined ? '' : '1',
        one.joins === true ? 'joins' : '',
      );
      const known = alike.get(key);
      if (known === undefined) alike.set(key, { step: one, ports: [name] });
      else known.ports.push(name);
    }
  }
  return [...alike.values()].map(({ step: one, ports }) => ({
    ...one,
    at: `${agree(ports.length, 'port')} ${portRanges(ports)}`,
  }));
}

function portFacts(port: Port | undefined, { pairing: { identity } }: Context): Facts {
  if (port === undefined) return {};
  const { trunk } = port;
  return {
    rate: rateText(port.rateBps),
    'access VLAN': vlanValue(port.access, identity),
    'tagged VLANs':
      trunk === undefined || trunk === 'all'
        ? trunk
        : setOfValues(trunk.map((vlan) => ({ text: vlanText(vlan), key: String(identity(vlan)) }))),
    'untagged VLAN': vlanValue(port.native, identity),
    MTU: numeral(port.mtu, 'octets'),
    'tree cost': numeral(port.spanningTree?.cost),
    'tree priority': numeral(port.spanningTree?.priority),
  };
}

/** Addresses of one VLAN are matched in the order they are written. */
function addressSteps(
  box: StepPlace,
  before: readonly SwitchAddress[],
  after: readonly SwitchAddress[],
  { pairing: { identity } }: Context,
): readonly Step[] {
  const pairs = pairUp(before, after, ({ vlan }) => (vlan === undefined ? '' : String(identity(vlan))));
  const of = (old: SwitchAddress | undefined, now: SwitchAddress | undefined): readonly Step[] => {
    const vlan = (now ?? old)?.vlan;
    const place: StepPlace = {
      ...box,
      at: vlan === undefined ? undefined : `VLAN ${vlan.name}`,
      network: vlan?.network?.name,
    };
    const paper: StepPlace = { ...place, box: { kind: 'plan', name: box.box.name }, part: 'paper' };
    return [
      ...holding(
        entrySteps(place, 'address', held(old), held(now)),
        [addressKey(old?.address)],
        [addressKey(now?.address)],
      ),
      ...(old === undefined || now === undefined
        ? []
        : factSteps(paper, { 'MAC address': macText(old.mac) }, { 'MAC address': macText(now.mac) })),
    ];
  };
  return [
    ...pairs.both.flatMap(([old, now]) => of(old, now)),
    ...pairs.gone.flatMap((old) => of(old, undefined)),
    ...pairs.fresh.flatMap((now) => of(undefined, now)),
  ];
}

function held(one: SwitchAddress | undefined): string | undefined {
  return addressText(one?.address, one?.prefixLength ?? one?.vlan?.subnet?.length);
}

/** Cables: a step at each end that is plugged or unplugged; what else is said of a link is on paper. */
export function linkSteps(context: Context): readonly Step[] {
  const { links } = context.pairing;
  return [
    ...links.both.flatMap(([before, after]) => [
      ...cableSteps(before, after, context),
      ...factSteps(linkPaper(after), linkFacts(before, context), linkFacts(after, context)),
      ...routedSteps(before, after, context),
    ]),
    ...links.gone.flatMap((link) => cableSteps(link, undefined, context)),
    ...links.fresh.flatMap((link) => [
      ...cableSteps(undefined, link, context),
      ...routedSteps(undefined, link, context),
    ]),
  ];
}

/** What the router at each end is told; its address there is one of its addresses. */
function routedSteps(before: Link | undefined, after: Link, { pairing: { identity } }: Context): readonly Step[] {
  return after.ends.flatMap((end, index) => {
    const place = endPlace({ link: after, end, key: '', leadsTo: '' });
    const old = before?.ends.findIndex(
      (one) => one.switch !== undefined && end.switch !== undefined && identity(one.switch) === identity(end.switch),
    );
    return factSteps(place, routedFacts(before, old ?? -1), routedFacts(after, index));
  });
}

function routedFacts(link: Link | undefined, end: number): Facts {
  const routing = link?.transit?.routing;
  if (routing === undefined) return {};
  return { 'multicast routing': yesNo(routing.mode !== 'none'), metric: numeral(routing.interfaces[end]?.metric) };
}

/** An end that stays plugged where it is needs nobody, though the other end moves. */
function cableSteps(before: Link | undefined, after: Link | undefined, context: Context): readonly Step[] {
  const { identity } = context.pairing;
  const old = new Map(ends(before).map((end) => [end.key, end]));
  const now = new Map(ends(after).map((end) => [end.key, end]));
  const pulled = [...old.values()].filter(({ key }) => !now.has(key));
  const plugged = [...now.values()].filter(({ key }) => !old.has(key));
  return [
    ...pulled
      .filter(({ end }) => end.switch === undefined || !context.leaves(end.switch))
      .flatMap((end) =>
        holding(entrySteps(endPlace(end), 'cable', end.leadsTo, undefined), [portKey(end.end.port, identity)], []),
      ),
    ...plugged.flatMap((end) =>
      holding(entrySteps(endPlace(end), 'cable', undefined, end.leadsTo), [], [portKey(end.end.port, identity)]),
    ),
  ];

  function ends(link: Link | undefined): readonly CableEnd[] {
    if (link === undefined) return [];
    const [a, b] = link.ends;
    return [cableEnd(link, a, b, context), cableEnd(link, b, a, context)];
  }
}

interface CableEnd {
  readonly key: string;
  readonly link: Link;
  readonly end: LinkEnd;
  readonly leadsTo: string;
}

function cableEnd(link: Link, end: LinkEnd, other: LinkEnd, { pairing: { identity } }: Context): CableEnd {
  const key = end.switch === undefined ? end.text : keyOf(String(identity(end.switch)), portOf(end));
  const leadsTo = link.name === undefined ? `to ${other.text}` : `${link.name} to ${other.text}`;
  return { key, link, end, leadsTo };
}

function endPlace({ link, end }: CableEnd): StepPlace {
  const network = end.port === undefined ? undefined : networkOfPort(end.port);
  return {
    rig: (end.switch?.rig ?? link.rig).name,
    box: end.switch === undefined ? { kind: 'plan', name: end.text } : { kind: 'switch', name: end.switch.name },
    at: end.switch === undefined ? undefined : `port ${portOf(end)}`,
    network: network?.name,
    part: end.switch === undefined ? 'paper' : 'cables',
    joins: isTie(link),
  };
}

function portOf({ port, text }: LinkEnd): string {
  return port?.name ?? text;
}

function linkFacts(link: Link, { pairing: { identity } }: Context): Facts {
  return {
    rate: rateText(link.rateBps),
    VLANs: setOfValues(
      (link.vlans ?? [])
        .filter((vlan) => vlan !== link.transit)
        .map((vlan) => ({ text: vlanText(vlan), key: String(identity(vlan)) })),
    ),
    medium: link.medium,
    length: numeral(link.lengthM, 'm'),
    delay: timeText(link.delayNs),
    aggregate: link.aggregate,
    risks: setOf(link.risks),
  };
}

function linkPaper(link: Link): StepPlace {
  const [a, b] = link.ends;
  const network = a.port === undefined ? undefined : networkOfPort(a.port);
  return {
    rig: link.rig.name,
    box: { kind: 'plan', name: `link ${link.name ?? `${a.text} to ${b.text}`}` },
    network: network?.name,
    part: 'paper',
  };
}

function boxPlace(one: Switch): StepPlace {
  return {
    rig: one.rig.name,
    box: { kind: 'switch', name: one.name },
    network: networkOfSwitch(one)?.name,
    part: 'switches',
  };
}
