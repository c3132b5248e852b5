/** What tables of bound groups leave out, table by table. */
import { kept } from '../../collections/kept.js';
import { byLabel } from '../../collections/order.js';
import type { Port, ReceiverLeg, Switch } from '../../plan/types.js';
import type { Address } from '../../values/address.js';
import { type Network, unboundOn } from '../network/index.js';
import type { Domain } from '../vlans/index.js';
import type { Verdicts } from './verdicts.js';

/** The table of one switch in one switched domain. */
export interface MissingBindings {
  readonly switch: Switch;
  readonly domain: Domain;
  readonly groups: readonly MissingGroup[];
  /** Whether the plan states that the switch drops what it does not bind. */
  readonly isStated: boolean;
}

export interface MissingGroup {
  readonly group: Address;
  /** One entry a way out; any port of an entry would do. */
  readonly ports: readonly (readonly Port[])[];
  /** Who does not get it. */
  readonly takers: readonly ReceiverLeg[];
}

interface Table {
  readonly groups: Map<Address, Draft>;
  readonly isStated: boolean;
}

interface Draft {
  readonly ports: Map<Port | undefined, readonly Port[]>;
  readonly takers: Set<ReceiverLeg>;
}

/** Every entry that lacks on the way to a receiver, at all switches of the way at once. */
export function missingBindings({ notDelivered }: Verdicts, network: Network): readonly MissingBindings[] {
  const tables = new Map<Switch, Map<Domain, Table>>();
  for (const { leg, receiverLeg, denial } of notDelivered) {
    if (denial !== 'not bound' || leg?.group === undefined) continue;
    for (const { switch: on, domain, ports, isStated } of unboundOn(leg, receiverLeg, network)) {
      const domains = kept(tables, on, () => new Map<Domain, Table>());
      const table = kept(domains, domain, () => ({ groups: new Map<Address, Draft>(), isStated }));
      const draft = kept(table.groups, leg.group, newDraft);
      draft.ports.set(ports[0], ports);
      draft.takers.add(receiverLeg);
    }
  }
  return [...tables].flatMap(([on, domains]) =>
    [...domains].map(([domain, { groups, isStated }]) => ({
      switch: on,
      domain,
      isStated,
      groups: [...groups]
        .map(([group, { ports, takers }]) => ({
          group,
          ports: byLabel([...ports.values()], ([first]) => first?.name ?? ''),
          takers: byLabel([...takers], ({ receiver, index }) => `${receiver.label} ${index}`),
        }))
        .sort((a, b) => (a.group < b.group ? -1 : 1)),
    })),
  );
}

function newDraft(): Draft {
  return { ports: new Map<Port | undefined, readonly Port[]>(), takers: new Set() };
}
