/** From documents to a plan: every name a reference, every address a number, every kind applied. */
import type { Document } from '../../source/document.js';
import { locateAll } from '../../source/locate.js';
import type { Problem } from '../../source/problem.js';
import type { Plan, Waiver } from '../types.js';
import { originOf, ResolveContext } from './context.js';
import { resolveDelays } from './delays.js';
import { resolveDevices } from './devices.js';
import { resolveFormats } from './formats.js';
import { resolveInfrastructure } from './infrastructure.js';
import { bindRouting } from './vlans.js';
import { bindPorts, resolveLinks } from './links.js';
import { resolveJoins, setTiePorts } from './joins.js';
import { vlanOfAddress } from './placement.js';
import { resolvePtpDomains } from './ptp.js';
import { resolveReceivers } from './receivers.js';
import { bindConventions, rawPlan, resolveRigs } from './rigs.js';
import { resolveStreams } from './streams.js';

export interface Resolved {
  readonly plan: Plan;
  /** Values that cannot be read. A plan with any is not whole and must not be judged. */
  readonly problems: readonly Problem[];
}

/** Joins documents that have passed the schema into one plan; `rigNames` counts for documents that name no rig, or the same. */
export function resolvePlan(documents: readonly Document[], rigNames?: ReadonlyMap<Document, string>): Resolved {
  const context = new ResolveContext();
  const rigs = resolveRigs(documents, context, rigNames);
  const known = resolveInfrastructure(documents, rigs, context);
  bindPorts(known, context);
  for (const rig of rigs.all) bindConventions(rig, known.networkScope, known.vlanScope, context);
  const formats = resolveFormats(documents, rigs, context);
  const input = { rigs, known, formats, vlanOf: vlanOfAddress(known.vlans), context };
  const { kinds, devices, scope, kindScope, ...ofDevices } = resolveDevices(documents, input);
  bindRouting(known.vlans, known.switchScope, scope, context);
  const joins = resolveJoins(documents, rigs, known, context);
  const links = resolveLinks(documents, rigs, known, context);
  setTiePorts(links, known.vlans);
  const streams = resolveStreams(documents, devices, input);
  const senders = joined(ofDevices.senders, streams.senders);
  const taking = { devices: scope, kinds: kindScope, streams: streams.scope, senders };
  const { receivers, receiverLegs } = resolveReceivers(devices, taking, input);
  const plan: Plan = {
    documents,
    rigs: rigs.all,
    rigOf: rigs.of,
    networks: known.networks,
    vlans: known.vlans,
    transits: links.flatMap(({ transit }) => transit ?? []),
    switches: known.switches,
    links,
    joins,
    formats: formats.all,
    kinds,
    devices,
    interfaces: ofDevices.interfaces,
    senders,
    legs: joined(
      ofDevices.legs,
      streams.senders.flatMap(({ legs }) => legs),
    ),
    descriptions: streams.descriptions,
    receivers,
    receiverLegs,
    ptpDomains: resolvePtpDomains(
      documents,
      rigs,
      { devices: scope, switches: known.switchScope, networks: known.networkScope },
      context,
    ),
    ...resolveDelays(documents, rigs, scope, streams.scope, context),
    waivers: documents.flatMap(waivers),
    unresolved: context.unresolved,
    repeatedPorts: context.repeatedPorts,
  };
  const at = locateAll(context.faults.map((fault) => fault.place));
  return { plan, problems: context.faults.map(({ place, what, instead }) => ({ at: at(place), what, instead })) };
}

/** Copies no long list where there is nothing to add. */
function joined<T>(all: readonly T[], more: readonly T[]): readonly T[] {
  return more.length === 0 ? all : [...all, ...more];
}

function waivers(document: Document): readonly Waiver[] {
  return (rawPlan(document).waivers ?? []).map((raw) => ({
    origin: originOf(document, raw),
    rule: raw.rule,
    subject: raw.subject,
    parties: raw.parties,
    reason: raw.reason,
    until: raw.until,
  }));
}
