/** Steps that follow where VLANs differ: at the switches that carry them, at those that query or route. */
import type { Device, GroupManagement, Querier, Switch, Vlan } from '../plan/types.js';
import { formatAddress, formatPrefix } from '../values/address.js';
import type { Context } from './context.js';
import { entrySteps, factSteps, holding, numeral, setOf, step, yesNo, type Facts, type StepPlace } from './facts.js';
import { vlanIdKey } from './held.js';
import type { Box, Step } from './steps.js';
import { addressText, rangeText, vlanText } from './values.js';

export function vlanSteps(context: Context): readonly Step[] {
  const { vlans } = context.pairing;
  return [
    ...vlans.both.flatMap(([before, after]) => changed(before, after, context)),
    ...vlans.gone.flatMap((vlan) => carriedSteps(vlan, undefined, context)),
    ...vlans.fresh.flatMap((vlan) => carriedSteps(undefined, vlan, context)),
  ];
}

function changed(before: Vlan, after: Vlan, context: Context): readonly Step[] {
  const paper = paperPlace(after);
  return [
    ...(before.name === after.name ? [] : [step(paper, 'rename', 'name', before.name, after.name)]),
    ...factSteps(paper, paperFacts(before), paperFacts(after)),
    ...factSteps(serverPlace(after), { 'DHCP range': rangeText(before.dhcp) }, { 'DHCP range': rangeText(after.dhcp) }),
    ...carriedSteps(before, after, context),
    ...timerSteps(before, after, context),
    ...querierSteps('querier', before.igmp, after.igmp, after, context),
    ...querierSteps('MLD querier', before.mld, after.mld, after, context),
    ...routingSteps(before, after, context),
  ];
}

function paperFacts(vlan: Vlan): Facts {
  return {
    network: vlan.network?.name,
    subnet: vlan.subnet === undefined ? undefined : formatPrefix(vlan.subnet),
    'IPv6 subnet': vlan.subnet6 === undefined ? undefined : formatPrefix(vlan.subnet6),
    gateway: addressText(vlan.gateway),
    'IPv6 gateway': addressText(vlan.gateway6),
  };
}

/** What every switch that carries the VLAN is set to. */
function settings(vlan: Vlan): Facts {
  const { igmp, mld } = vlan;
  return {
    MTU: numeral(vlan.mtu, 'octets'),
    forwarding: vlan.forwarding,
    ...management('IGMP', igmp),
    ...management('MLD', mld),
  };
}

function management(protocol: 'IGMP' | 'MLD', of: GroupManagement | undefined): Facts {
  const before = protocol === 'MLD' ? 'MLD ' : '';
  return {
    [`${protocol} snooping`]: yesNo(of?.snooping),
    [`${protocol} version`]: numeral(of?.version),
    [`${before}unregistered groups`]: of?.unregistered,
    [`${before}fast leave`]: yesNo(of?.fastLeave),
  };
}

/** Settings where a switch carries the VLAN before and after; the whole VLAN where it begins or ceases to. */
function carriedSteps(before: Vlan | undefined, after: Vlan | undefined, context: Context): readonly Step[] {
  const vlan = after ?? before;
  if (vlan === undefined) return [];
  const { both, gone, fresh } = carriers(before, after, context);
  const old = before === undefined ? undefined : settings(before);
  const now = after === undefined ? undefined : settings(after);
  const nowhere = both.length + gone.length + fresh.length === 0;
  if (nowhere && (old === undefined || now === undefined))
    return entrySteps(paperPlace(vlan), 'VLAN', inWords(before), inWords(after));
  if (nowhere)
    return [...idSteps(paperPlace(vlan), before, after, context), ...factSteps(paperPlace(vlan), old ?? {}, now ?? {})];
  return [
    ...both.flatMap((one) => [
      ...idSteps(boxPlace(one, vlan), before, after, context),
      ...factSteps(boxPlace(one, vlan), old ?? {}, now ?? {}),
    ]),
    ...gone.flatMap((one) => entrySteps(boxPlace(one, vlan), 'VLAN', inWords(before), undefined)),
    ...fresh.flatMap((one) => entrySteps(boxPlace(one, vlan), 'VLAN', undefined, inWords(after))),
  ];
}

/** An id that another VLAN has too makes one network of both. */
function idSteps(
  place: StepPlace,
  before: Vlan | undefined,
  after: Vlan | undefined,
  { isShared }: Context,
): readonly Step[] {
  if (before?.id === after?.id) return [];
  const joins = after?.id !== undefined && isShared(after.id);
  return holding(
    factSteps({ ...place, joins }, { 'VLAN id': numeral(before?.id) }, { 'VLAN id': numeral(after?.id) }),
    [vlanIdKey(before?.id)],
    joins ? [] : [vlanIdKey(after?.id)],
  );
}

/** `red-video (210): IGMP snooping yes, IGMP version 3`: all a switch needs that is new to the VLAN. */
function inWords(vlan: Vlan | undefined): string | undefined {
  if (vlan === undefined) return undefined;
  const words = Object.entries({ ...settings(vlan), ...timers(vlan) }).flatMap(([what, value]) =>
    typeof value === 'string' ? [`${what} ${value}`] : [],
  );
  return words.length === 0 ? vlanText(vlan) : `${vlanText(vlan)}: ${words.join(', ')}`;
}

function timers({ igmp, mld }: Vlan): Facts {
  const of = (prefix: string, one: GroupManagement | undefined): Facts => ({
    [`${prefix}query interval`]: numeral(one?.queryIntervalS, 's'),
    [`${prefix}query response interval`]: numeral(one?.queryResponseIntervalS, 's'),
    [`${prefix}last member query interval`]: numeral(one?.lastMemberQueryIntervalS, 's'),
    [`${prefix}robustness`]: numeral(one?.robustness),
  });
  return { ...of('', igmp), ...of('MLD ', mld) };
}

/** Timers count where queries are sent; where nobody is said to query, at every switch that carries the VLAN. */
function timerSteps(before: Vlan, after: Vlan, context: Context): readonly Step[] {
  const old = timers(before);
  const now = timers(after);
  const queriers = [before, after].flatMap(({ igmp, mld }) => [...(igmp?.queriers ?? []), ...(mld?.queriers ?? [])]);
  const boxes = remaining(
    queriers.flatMap(({ on }) => on ?? []),
    context,
  );
  const places =
    boxes.length > 0
      ? boxes.map((box) => boxPlace(box, after))
      : carriers(before, after, context).both.map((one) => boxPlace(one, after));
  return (places.length > 0 ? places : [paperPlace(after)]).flatMap((place) => factSteps(place, old, now));
}

function querierSteps(
  what: string,
  before: GroupManagement | undefined,
  after: GroupManagement | undefined,
  vlan: Vlan,
  context: Context,
): readonly Step[] {
  const sides = [before?.queriers ?? [], after?.queriers ?? []].map((list) => byBox(list, context));
  const [old = new Map<number, Querier>(), now = new Map<number, Querier>()] = sides;
  const steps = [...new Set([...old.keys(), ...now.keys()])].flatMap((box) => {
    const on = now.get(box)?.on ?? old.get(box)?.on;
    if (on === undefined || context.leaves(on) || context.arrives(on)) return [];
    return entrySteps(boxPlace(on, vlan), what, querierText(old.get(box)), querierText(now.get(box)));
  });
  const nowhere = [before?.queriers ?? [], after?.queriers ?? []].map((list) =>
    setOf(list.filter(({ on }) => on === undefined).flatMap((one) => querierText(one) ?? [])),
  );
  return [...steps, ...entrySteps(paperPlace(vlan), what, nowhere[0], nowhere[1])];
}

function byBox(queriers: readonly Querier[], { pairing }: Context): Map<number, Querier> {
  return new Map(queriers.flatMap((one) => (one.on === undefined ? [] : [[pairing.identity(one.on), one] as const])));
}

function querierText(querier: Querier | undefined): string | undefined {
  return querier === undefined ? undefined : (addressText(querier.address) ?? 'yes');
}

function routingSteps(before: Vlan, after: Vlan, context: Context): readonly Step[] {
  const old = before.routing;
  const now = after.routing;
  const { identity } = context.pairing;
  const oldRouters = new Set((old?.routers ?? []).map(identity));
  const nowRouters = new Set((now?.routers ?? []).map(identity));
  const points = (of: typeof old): string | undefined =>
    setOf(
      (of?.rendezvousPoints ?? []).map(({ address, groups }) => {
        const served = setOf((groups ?? []).map(formatPrefix));
        return served === undefined ? formatAddress(address) : `${formatAddress(address)} for ${served}`;
      }),
    );
  const boxes = remaining([...(old?.routers ?? []), ...(now?.routers ?? [])], context);
  if (boxes.length === 0) {
    const facts = (of: typeof old): Facts => ({ 'multicast routing': of?.mode, 'rendezvous point': points(of) });
    return factSteps(paperPlace(after), facts(old), facts(now));
  }
  return boxes.flatMap((box) => {
    const place = boxPlace(box, after);
    const did = oldRouters.has(identity(box));
    const does = nowRouters.has(identity(box));
    return [
      ...entrySteps(place, 'multicast routing', did ? old?.mode : undefined, does ? now?.mode : undefined),
      ...entrySteps(place, 'rendezvous point', did ? points(old) : undefined, does ? points(now) : undefined),
      ...factSteps(place, did ? toldTo(old, box, identity) : {}, does ? toldTo(now, box, identity) : {}),
    ];
  });
}

function toldTo(of: Vlan['routing'], box: Switch | Device, identity: (thing: object) => number): Facts {
  const told = of?.interfaces.find(({ on }) => on !== undefined && identity(on) === identity(box));
  return { metric: numeral(told?.metric), 'designated router priority': numeral(told?.priority) };
}

/** Boxes of the new plan, and old ones that it has no more only where they are not taken away as a whole. */
function remaining(boxes: readonly (Switch | Device)[], context: Context): readonly (Switch | Device)[] {
  const found = new Map<number, Switch | Device>();
  for (const box of boxes)
    if (!context.leaves(box) && !context.arrives(box)) found.set(context.pairing.identity(box), box);
  return [...found.values()].map((box) => context.now(box));
}

function carriers(
  before: Vlan | undefined,
  after: Vlan | undefined,
  context: Context,
): { readonly both: readonly Switch[]; readonly gone: readonly Switch[]; readonly fresh: readonly Switch[] } {
  const { identity } = context.pairing;
  const old = before === undefined ? [] : [...(context.carriersBefore.get(before) ?? [])];
  const now = after === undefined ? [] : [...(context.carriersAfter.get(after) ?? [])];
  const did = new Set(old.map(identity));
  const does = new Set(now.map(identity));
  return {
    both: now.filter((one) => did.has(identity(one))),
    gone: old.filter((one) => !does.has(identity(one)) && !context.leaves(one)).map((one) => context.now(one)),
    fresh: now.filter((one) => !did.has(identity(one)) && !context.arrives(one)),
  };
}

function boxPlace(on: Switch | Device, vlan: Vlan): StepPlace {
  const kind: Box['kind'] = 'ports' in on ? 'switch' : 'device';
  return {
    rig: on.rig.name,
    box: { kind, name: on.name },
    at: `VLAN ${vlan.name}`,
    network: vlan.network?.name,
    part: 'switches',
  };
}

/** Whatever hands out addresses in a VLAN: the plan does not say which box that is. */
function serverPlace(vlan: Vlan): StepPlace {
  return {
    rig: vlan.rig.name,
    box: { kind: 'server', name: `DHCP server of VLAN ${vlan.name}` },
    network: vlan.network?.name,
    part: 'interfaces',
  };
}

function paperPlace(vlan: Vlan): StepPlace {
  return {
    rig: vlan.rig.name,
    box: { kind: 'plan', name: `VLAN ${vlan.name}` },
    network: vlan.network?.name,
    part: 'paper',
  };
}
