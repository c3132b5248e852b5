/** One stream's way for programs: one document in the shape of `schemas/trace.schema.json`. */
import type { Hop, LegTrace, Loss, Stage, Trace, Why } from '../../model/explain/index.js';
import type { Unreached } from '../../model/verdicts/index.js';
import { findingText, type Finding } from '../../lint/finding.js';
import type { KnownQuerier } from '../../model/network/index.js';
import { linkLabel, portLabel } from '../../model/vlans/index.js';
import type { Interface, ReceiverLeg, Vlan } from '../../plan/types.js';
import { formatAddress, type Address } from '../../values/address.js';
import { escapeText } from '../../page/escape.js';
import { plainText } from '../../page/phrase.js';
import { CAUTION } from '../caution.js';
import { problemJson, toolJson } from '../common-json.js';
import type { TraceResult } from '../../answers/trace.js';
import { unreachedWords } from '../verdict-words.js';

/** Keys come in a fixed order; what the plan does not state is null. */
export function traceJson({ traces, findings, problems }: TraceResult, version: string): object {
  return {
    format: 1,
    tool: toolJson(version),
    complete: problems.length === 0,
    ...(findings === undefined ? {} : { findings: findings.map(findingJson) }),
    streams: traces.map(streamJson),
    problems: problems.map(problemJson),
    caution: CAUTION,
  };
}

function findingJson(finding: Finding): unknown {
  const { rule, severity, subject } = finding;
  return { rule, severity, subject, what: findingText(finding).what };
}

function streamJson({ sender, legs, losses, unrated }: Trace): unknown {
  return {
    stream: sender.label,
    rig: sender.rig.name,
    contentFormat: sender.format?.name ?? null,
    unratedLegsInPlan: unrated,
    legs: legs.map(legJson),
    losses: losses.map(lossJson),
  };
}

function legJson(trace: LegTrace): unknown {
  const { leg } = trace;
  return {
    leg: leg.index + 1,
    group: addressOf(leg.group),
    source: addressOf(leg.source),
    port: leg.port ?? null,
    vlan: leg.vlan === undefined ? null : vlanJson(leg.vlan),
    interface: leg.interface === undefined ? null : interfaceName(leg.interface),
    portBps: trace.rate?.onPort ?? null,
    linkBps: trace.rate?.onLink ?? null,
    unknown: trace.unknown ?? null,
    address: addressOf(leg.group === undefined ? leg.unicast : undefined),
    stop: trace.stop ?? null,
    stages: trace.stages.map(stageJson),
    notReached: trace.unreached.map(unreachedJson),
    losses: trace.losses.map(lossJson),
  };
}

function stageJson({
  forwarding,
  plane,
  through,
  flood,
  entry,
  querier,
  hops,
  onward,
  reached,
  toGroup,
}: Stage): unknown {
  const { segment, parts } = forwarding;
  return {
    through: through?.name ?? null,
    vlans: segment.domain.vlans.map(vlanJson),
    looped: parts.length > 0,
    igmp: toGroup ? conductJson(plane, querier) : null,
    flooded: flood ?? null,
    entry:
      entry === undefined
        ? null
        : {
            port: portOf(entry.interface),
            interface: interfaceName(entry.interface),
            rateBps: entry.rateBps ?? null,
            loadBps: entry.load?.fromHost ?? 0,
            atLeast: entry.atLeast,
          },
    hops: hops.map(hopJson),
    ttlEndsAt: onward.filter(({ drops }) => drops).map(({ on }) => on.name),
    reached: reached.map(receiverJson),
  };
}

function conductJson({ conduct }: Stage['plane'], querier: Stage['querier']): unknown {
  return {
    version: conduct.version ?? null,
    snooping: conduct.snooping ?? null,
    unregistered: conduct.unregistered ?? null,
    membershipSeconds: conduct.membershipS,
    querier: querier === undefined ? null : querierJson(querier),
    reserves: conduct.queriers.filter((one) => one !== querier).map(querierJson),
  };
}

function hopJson(hop: Hop): unknown {
  switch (hop.kind) {
    case 'switch':
      return { kind: hop.kind, depth: hop.depth, switch: hop.switch.name, serves: hop.serves };
    case 'link':
      return {
        kind: hop.kind,
        depth: hop.depth,
        links: hop.links.map(linkLabel),
        waiting: hop.waiting.map(linkLabel),
        to: hop.to.name,
        rateBps: hop.rateBps ?? null,
        loadBps: hop.loadBps,
        atLeast: hop.atLeast,
        member: hop.links.length < 2 ? null : { rateBps: hop.memberBps ?? null, mostBps: hop.loadBps },
        why: hop.whys.map(whyJson),
      };
    case 'port':
      return {
        kind: hop.kind,
        depth: hop.depth,
        port: portOf(hop.interface),
        interface: interfaceName(hop.interface),
        rateBps: hop.rateBps ?? null,
        loadBps: hop.load?.toHost ?? 0,
        atLeast: hop.atLeast,
        why: hop.whys.map(whyJson),
      };
  }
}

function whyJson(why: Why): unknown {
  switch (why.kind) {
    case 'addressed':
      return { kind: why.kind, to: why.to.name, by: why.by.map(receiverJson) };
    case 'towards':
      return { kind: why.kind, what: why.what, on: why.on.name };
    case 'bound':
      return { kind: why.kind, at: why.at.name };
    case 'flooded':
      return { kind: why.kind, reason: why.reason };
    case 'joined':
    case 'same group':
    case 'alias':
      return { kind: why.kind, by: why.by.map(receiverJson) };
  }
}

function unreachedJson({ receiver, receiverLeg, why }: Unreached): unknown {
  return {
    receiver: receiver.label,
    leg: receiverLeg === undefined ? null : receiverLeg.index + 1,
    group: addressOf(receiverLeg?.group),
    why: why.kind,
    text: escapeText(plainText(unreachedWords(why))),
  };
}

function lossJson({ receivers, elements }: Loss): unknown {
  return {
    receivers: receivers.map((receiver) => receiver.label),
    elements: elements.map(({ kind, name }) => ({ kind, name })),
  };
}

function receiverJson(leg: ReceiverLeg): {
  readonly receiver: string;
  readonly leg: number;
  readonly group: string | null;
} {
  return { receiver: leg.receiver.label, leg: leg.index + 1, group: addressOf(leg.group) };
}

function querierJson({ on, address }: KnownQuerier): unknown {
  return { on: on?.name ?? null, address: addressOf(address) };
}

function vlanJson({ name, id }: Vlan): unknown {
  return { name, id: id ?? null };
}

function addressOf(address: Address | undefined): string | null {
  return address === undefined ? null : formatAddress(address);
}

function portOf({ port }: Interface): string | null {
  return port === undefined ? null : portLabel(port);
}

function interfaceName(via: Interface): string {
  return `${via.device.name} ${via.name}`;
}
