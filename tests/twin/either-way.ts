/**
 * Streams that a Linux bridge carries to some ports or not, as the order of reports has it (README.md beside this file).
 *
 * With IGMPv3 or MLDv2, where any source and one source of a group are joined behind one port, and that source alone
 * behind another port of the same bridge, the second gets the source or not, changing from query to query.
 *
 * Where a host of an older version joins a group that others join from one source, a source can stay blocked on its port if
 * the bridge falls back while reports with sources are repeated; RFC 3376 §7.3.2 clears it.
 */
import type { Plan, ReceiverLeg, Switch } from '../../src/plan/types.js';
import { joinedSource } from '../../src/model/network/join-filter.js';

/** Labels of their senders. */
export function goEitherWay(plan: Plan): ReadonlySet<string> {
  const found = new Set<string>();
  for (const { sender, group, source, vlan } of plan.legs) {
    const joined = plan.receiverLegs.filter((one) => one.vlan === vlan && one.group === group);
    const any = joined.filter((one) => joinedSource(one) === undefined);
    const anyAt = new Set(any.map((one) => one.interface));
    // A host that joins both asks for any source (RFC 3376 §3.2).
    const only = joined.filter((one) => joinedSource(one) === source && !anyAt.has(one.interface));
    if (source === undefined || any.length === 0 || only.length === 0) continue;
    if (any.some(isOld)) found.add(sender.label);
    if (only.length < 2) continue;
    if (plan.switches.some((one) => isTorn(plan, one, any, only))) found.add(sender.label);
  }
  return found;
}

/** Whether a host speaks a version that names no sources. */
function isOld({ interface: via }: ReceiverLeg): boolean {
  return via?.igmpVersion === 2 || via?.mldVersion === 1;
}

/** Whether at a switch a port has both kinds behind it, and another has the one source alone. */
function isTorn(plan: Plan, at: Switch, any: readonly ReceiverLeg[], only: readonly ReceiverLeg[]): boolean {
  const portOf = branches(plan, at);
  const anyPorts = new Set(any.map(portOf));
  const onlyPorts = new Set(only.map(portOf));
  const both = [...onlyPorts].some((port) => port !== undefined && anyPorts.has(port));
  const alone = [...onlyPorts].some((port) => port !== undefined && !anyPorts.has(port));
  return both && alone;
}

/** Behind which port of a switch a receiver stands: its own, or that of the link towards it. */
function branches(plan: Plan, at: Switch): (leg: ReceiverLeg) => unknown {
  const behind = new Map<Switch, unknown>();
  const spread = (from: Switch, port: unknown): void => {
    behind.set(from, port);
    for (const { ends } of plan.links) {
      const [near, far] = ends.map((end) => end.switch);
      const next = near === from ? far : far === from ? near : undefined;
      if (next !== undefined && next !== at && !behind.has(next)) spread(next, port);
    }
  };
  for (const link of plan.links) {
    const [near, far] = link.ends.map((end) => end.switch);
    const next = near === at ? far : far === at ? near : undefined;
    if (next !== undefined) spread(next, link);
  }
  return ({ interface: via }) => {
    const stands = via?.port?.switch;
    return stands === undefined ? undefined : stands === at ? via : behind.get(stands);
  };
}
