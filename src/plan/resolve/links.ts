/** Links between switches, and the ports that links and devices name. */
import type { Document } from '../../source/document.js';
import type { RawLink, RawRouterPorts, RawSwitch } from '../../read/raw-plan.js';
import { parseLength, parseRate, parseTime } from '../../values/quantity.js';
import type { Binding, Link, LinkEnd, Origin, Port, Referrer, Rig, RouterPorts, Switch } from '../types.js';
import type { Scope } from './context.js';
import { listOrigin, originOf, type Draft, type ResolveContext } from './context.js';
import { portNames } from '../port-names.js';
import { rawPlan, type Rigs } from './rigs.js';
import { findAll, type Infrastructure } from './infrastructure.js';
import { resolveTransit } from './transits.js';

export function resolveLinks(
  documents: readonly Document[],
  rigs: Rigs,
  known: Infrastructure,
  context: ResolveContext,
): readonly Link[] {
  return documents.flatMap((document) => {
    const rig = rigs.of(document);
    return (rawPlan(document).links ?? []).map((raw) => resolveLink(document, raw, rig, known, context));
  });
}

function resolveLink(document: Document, raw: RawLink, rig: Rig, known: Infrastructure, context: ResolveContext): Link {
  const origin = originOf(document, raw);
  const at = listOrigin(origin, 'ends');
  const end = (text: string): Draft<LinkEnd> => ({ origin: at, switch: undefined, port: undefined, text });
  const ends = [end(raw.ends[0]), end(raw.ends[1])] as const;
  const link: Draft<Link> = {
    origin,
    rig,
    name: raw.name,
    ends,
    rateBps: context.quantity(origin, 'rate', raw.rate, parseRate),
    vlans: undefined,
    medium: raw.medium,
    lengthM: context.quantity(origin, 'length', raw.length, parseLength),
    delayNs: context.quantity(origin, 'delay', raw.delay, parseTime),
    aggregate: raw.aggregate,
    risks: raw.risks ?? [],
    transit: undefined,
  };
  const by: Referrer = { kind: 'link', entity: link };
  for (const index of [0, 1] as const) {
    const found = findPort(known.switchScope, rig, at, index, raw.ends[index], by, context);
    ends[index].switch = found.switch;
    ends[index].port = found.port;
  }
  if (raw.vlans !== undefined) link.vlans = findAll(origin, 'vlans', raw.vlans, rig, known.vlanScope, by, context);
  if (raw.routed !== undefined) {
    link.transit = resolveTransit(document, raw, raw.routed, link, context);
    link.vlans = [...(link.vlans ?? []), link.transit];
  }
  return link;
}

/** `leaf-a/12`: the switch name ends at the first slash. A switch whose ports are not listed takes any port name. */
export function findPort(
  switches: Scope<Switch>,
  rig: Rig,
  origin: Origin,
  key: string | number,
  text: string,
  by: Referrer,
  context: ResolveContext,
): { readonly switch: Switch | undefined; readonly port: Port | undefined } {
  const slash = text.indexOf('/');
  const owner = context.find(switches, rig, origin, key, text.slice(0, slash), by);
  if (owner === undefined) return { switch: undefined, port: undefined };
  return { switch: owner, port: portOn(owner, text.slice(slash + 1), origin, key, by, context) };
}

function portOn(
  owner: Switch,
  name: string,
  origin: Origin,
  key: string | number,
  by: Referrer,
  context: ResolveContext,
): Port | undefined {
  const port = owner.ports.get(name);
  if (port !== undefined) return port;
  if (!listsPorts(owner)) return addUnlisted(owner, name);
  context.lost(origin, key, { kind: 'port', of: owner }, name, by, () => owner.ports.keys());
  return undefined;
}

/** Fills in what switches have bound to ports by hand, once their ports and the VLANs are known. */
export function bindPorts({ switches, vlanScope }: Infrastructure, context: ResolveContext): void {
  for (const one of switches) {
    const { document, container } = one.origin;
    const raw = container as RawSwitch;
    const by: Referrer = { kind: 'switch', entity: one };
    const resolved = (entry: RawRouterPorts): RouterPorts => {
      const origin = originOf(document, entry);
      const list = listOrigin(origin, 'ports');
      return {
        origin,
        vlan: context.find(vlanScope, one.rig, origin, 'vlan', entry.vlan, by),
        ports: entry.ports.flatMap((text, index) =>
          (portNames(String(text)) ?? [String(text)]).flatMap(
            (name) => portOn(one, name, list, index, by, context) ?? [],
          ),
        ),
      };
    };
    const draft: Draft<Switch> = one;
    draft.routerPorts = (raw.routerPorts ?? []).map(resolved);
    draft.bindings = (raw.bindings ?? []).map((entry): Binding => {
      const bound = resolved(entry);
      const list = listOrigin(bound.origin, 'groups');
      return {
        ...bound,
        groups: entry.groups.flatMap(
          (text, index) => context.range(list, index, /[-/]/.test(text) ? text : `${text}-${text}`) ?? [],
        ),
      };
    });
  }
}

function listsPorts(owner: Switch): boolean {
  return ((owner.origin.container as RawSwitch).ports ?? []).length > 0;
}

function addUnlisted(owner: Switch, name: string): Port {
  const port: Port = {
    origin: owner.origin,
    switch: owner,
    name,
    rateBps: undefined,
    access: undefined,
    trunk: undefined,
    native: undefined,
    mtu: owner.mtu,
    spanningTree: undefined,
  };
  (owner.ports as Map<string, Port>).set(name, port);
  return port;
}
