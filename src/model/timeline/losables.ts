/** Everything of a plan that can be lost, with what goes with it. */
import type { Device, Interface, Link, Plan, Switch } from '../../plan/types.js';
import type { Removal } from '../network/index.js';
import { namedLosses, type NamedLoss, type Timing } from '../timing/index.js';
import { linkLabel } from '../vlans/index.js';
import type { Lost } from './moments.js';

export interface Losable extends Lost {
  /** Undefined where everything stands: a reference. */
  readonly removal: Removal | undefined;
  /** Undefined where clocks are not asked: the loss of an interface. */
  readonly loss: NamedLoss | undefined;
}

/** Switches, links, devices, interfaces, risks, power feeds, and references once for each class a clock falls to. */
export function losables(plan: Plan, timing: Timing): readonly Losable[] {
  const links = new Map<string, Set<Link>>();
  for (const link of plan.links) for (const risk of link.risks) join(links, risk, link);
  const boxes: readonly (Switch | Device)[] = [...plan.switches, ...plan.devices];
  const feeds = new Map<string, Set<Switch | Device>>();
  for (const one of boxes)
    for (const feed of one.power) {
      const own = join(feeds, feed);
      // A box on two feeds survives the loss of one.
      if (new Set(one.power).size === 1) own.add(one);
    }
  return [
    ...plan.switches.map((one) => losable('switch', one.name, { boxes: new Set([one]), links: NO_LINKS })),
    ...plan.links.map((one) => losable('link', linkLabel(one), { boxes: NO_BOXES, links: new Set([one]) })),
    ...plan.devices.map((one) => losable('device', one.name, { boxes: new Set([one]), links: NO_LINKS })),
    ...plan.interfaces.map((one): Losable => {
      const interfaces: ReadonlySet<Interface> = new Set([one]);
      const removal = { boxes: NO_BOXES, links: NO_LINKS, interfaces };
      return {
        kind: 'interface',
        name: `${one.device.name} ${one.name}`,
        clockClass: undefined,
        removal,
        loss: undefined,
      };
    }),
    ...[...links].map(([name, own]) => losable('risk', name, { boxes: NO_BOXES, links: own })),
    ...[...feeds].map(([name, own]) => losable('power feed', name, { boxes: own, links: NO_LINKS })),
    ...namedLosses(plan, timing)
      .filter(({ kind }) => kind === 'reference')
      .map((loss): Losable => ({ ...loss, removal: undefined, loss })),
  ];
}

const NO_BOXES: ReadonlySet<never> = new Set();
const NO_LINKS: ReadonlySet<Link> = new Set();

function losable(kind: Exclude<NamedLoss['kind'], 'reference'>, name: string, removal: Removal): Losable {
  const loss: NamedLoss = {
    kind,
    name,
    clockClass: undefined,
    loss: { owners: removal.boxes, links: removal.links },
  };
  return { kind, name, clockClass: undefined, removal, loss };
}

function join<V>(map: Map<string, Set<V>>, key: string, value?: V): Set<V> {
  let own = map.get(key);
  if (own === undefined) map.set(key, (own = new Set()));
  if (value !== undefined) own.add(value);
  return own;
}
