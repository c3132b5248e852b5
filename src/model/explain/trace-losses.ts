/** What alone takes a stream, or one leg of it, from receivers that get it: the failure model asked about them only. */
import type { Leg, Plan, Receiver, ReceiverLeg } from '../../plan/types.js';
import { buildFailures, type Element, type Network } from '../network/index.js';

/** A leg as one receiver leg gets it. */
export interface Taken {
  readonly leg: Leg;
  readonly receiverLeg: ReceiverLeg;
}

/** Elements each of which alone takes it from exactly these receivers. */
export interface Loss {
  readonly receivers: readonly Receiver[];
  readonly elements: readonly Element[];
}

/** Most receivers first; elements with the same receivers stand together. */
export function lossesOf(plan: Plan, network: Network, taken: readonly Taken[]): readonly Loss[] {
  const originals = new Map<Receiver, Receiver>();
  for (const [receiver, legs] of byReceiver(taken)) originals.set({ ...receiver, legs }, receiver);
  const { ranked } = buildFailures({ ...plan, receivers: [...originals.keys()] }, network);
  const groups = new Map<string, { readonly receivers: readonly Receiver[]; readonly elements: Element[] }>();
  const numbers = new Map([...originals.values()].map((receiver, number) => [receiver, number]));
  for (const { element, lost } of ranked) {
    const receivers = [...new Set(lost.flatMap((one) => originals.get(one.receiver) ?? []))];
    if (receivers.length === 0) continue;
    const key = receivers.map((receiver) => numbers.get(receiver)).join(' ');
    const group = groups.get(key);
    if (group === undefined) groups.set(key, { receivers, elements: [element] });
    else group.elements.push(element);
  }
  return [...groups.values()].sort((a, b) => b.receivers.length - a.receivers.length);
}

/** Receiver legs by receiver, each taking the leg it hears: a receiver may name a group and no stream. */
function byReceiver(taken: readonly Taken[]): ReadonlyMap<Receiver, readonly ReceiverLeg[]> {
  const found = new Map<Receiver, ReceiverLeg[]>();
  for (const { leg, receiverLeg } of taken) {
    const list = found.get(receiverLeg.receiver);
    const own = taking(receiverLeg, leg);
    if (list === undefined) found.set(receiverLeg.receiver, [own]);
    else list.push(own);
  }
  return found;
}

/** Fields one by one: what a resolved leg computes is no property of its own. */
function taking(receiverLeg: ReceiverLeg, leg: Leg): ReceiverLeg {
  const {
    origin,
    receiver,
    index,
    interface: via,
    vlan,
    network,
    group,
    groupStated,
    source,
    join,
    port,
    payloadType,
  } = receiverLeg;
  return {
    origin,
    receiver,
    index,
    interface: via,
    vlan,
    network,
    takes: leg,
    group,
    groupStated,
    source,
    join,
    port,
    payloadType,
  };
}
