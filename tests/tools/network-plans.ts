/** Plans from text for tests of the network model and its reports. */
import { createModel, type Model } from '../../src/model/model.js';
import { buildTrace, type Trace } from '../../src/model/explain/trace.js';
import { loadPlan } from '../../src/plan/load.js';
import { resolvePlan } from '../../src/plan/resolve/index.js';
import { readDocument } from '../../src/read/index.js';

/** The model of a plan, as text or as what JSON says, that must be readable and whole. */
export function modelOf(file: string | object): Model {
  const input =
    typeof file === 'string' ? { name: 'plan.yaml', text: file } : { name: 'plan.json', text: JSON.stringify(file) };
  const { plan, problems } = loadPlan([input]);
  if (problems.length > 0 || plan.unresolved.length > 0)
    throw new Error(JSON.stringify([problems, plan.unresolved.map((one) => one.text)]));
  return createModel(plan);
}

/** The trace of the stream of a name. */
export function traceOf(model: Model, label: string): Trace {
  const sender = model.plan.senders.find((one) => one.label === label);
  if (sender === undefined) throw new Error(`no stream ${label}`);
  return buildTrace(model, sender);
}

/** The model of a plan whose names no schema has kept clean: every name of `pattern` renamed, in references too. */
export function hostileModel(text: string, pattern: RegExp, rename: (name: string) => string): Model {
  const { document } = readDocument({ name: 'plan.yaml', text });
  if (document === undefined) throw new Error('the plan can not be read');
  return createModel(resolvePlan([{ ...document, value: renamed(document.value, pattern, rename) }]).plan);
}

/** Parts of a reference around its slash are names each. */
function renamed(value: unknown, pattern: RegExp, rename: (name: string) => string): unknown {
  if (typeof value === 'string')
    return value
      .split('/')
      .map((part) => (pattern.test(part) ? rename(part) : part))
      .join('/');
  if (Array.isArray(value)) return value.map((one) => renamed(one, pattern, rename));
  if (typeof value !== 'object' || value === null) return value;
  return Object.fromEntries(Object.entries(value).map(([key, child]) => [key, renamed(child, pattern, rename)]));
}

/**
 * Dunlin in small: a switch that keys by multicast MAC, an aggregate, a link too small, a router into a VLAN without
 * snooping, and receivers that get nothing for five reasons.
 */
export const DUNLIN_SMALL = `
rig: Dunlin
formats:
  - {name: 1080p50, coding: st2110-20, width: 1920, height: 1080, frameRate: 50, sampling: 'YCbCr-4:2:2', depth: 10}
networks: [{name: red, leg: 1}]
vlans:
  - name: red-video
    id: 110
    network: red
    igmp:
      snooping: true
      version: 3
      unregistered: drop
      querier: [{on: tower, address: 172.20.1.1}, {on: boathouse, address: 172.20.1.9}]
    routing: {mode: pim-sm, routers: [tower], rp: [{address: 172.20.1.1}]}
  - {name: red-preview, id: 140, network: red, igmp: {snooping: false}, routing: {mode: pim-sm, routers: [tower], rp: [{address: 172.20.1.1}]}}
  - {name: red-visitors, id: 150, network: red}
switches:
  - name: pontoon
    snoopingKey: mac
    ports: [{name: 1-8, rate: 25G, access: red-video}, {name: 49-50, rate: 100G, trunk: [red-video]}]
  - name: tower
    ports:
      - {name: 1-8, rate: 25G, access: red-video}
      - {name: 11-18, rate: 10G, access: red-preview}
      - {name: 21-22, rate: 1G, access: red-visitors}
      - {name: 49-51, rate: 100G, trunk: [red-video]}
    addresses: [{vlan: red-video, address: 172.20.1.1/24}, {vlan: red-preview, address: 172.20.4.1/24}]
  - name: boathouse
    ports: [{name: 1-8, rate: 1G, access: red-video}, {name: 49, rate: 1G, trunk: [red-video]}]
links:
  - {name: P1, ends: [pontoon/49, tower/49], rate: 100G, aggregate: P, risks: [lake cable]}
  - {name: P2, ends: [pontoon/50, tower/50], rate: 100G, aggregate: P, risks: [lake cable]}
  - {name: B1, ends: [tower/51, boathouse/49], rate: 1G}
devices:
  - name: cam-31
    interfaces: [{name: red, vlan: red-video, address: 172.20.1.31/24, port: pontoon/1}]
    senders:
      - {name: video, format: 1080p50, legs: [{interface: red, group: 239.192.31.11, port: 20000, ttl: 8}]}
      - {name: clean, format: 1080p50, legs: [{interface: red, group: 239.64.31.11, port: 20000, ttl: 1}]}
  - name: vision
    interfaces: [{name: red, vlan: red-video, address: 172.20.1.40/24, port: tower/1}]
    receivers: [{name: in-31, takes: cam-31/video}]
  - name: recorder
    interfaces: [{name: red, vlan: red-video, address: 172.20.1.41/24, port: boathouse/1}]
    receivers: [{name: clean-31, takes: cam-31/clean}]
  - name: monitor
    interfaces: [{name: preview, vlan: red-preview, address: 172.20.4.9/24, port: tower/11}]
    receivers: [{name: cam-31, takes: cam-31/video}, {name: clean-31, takes: cam-31/clean}]
  - name: tablet
    interfaces: [{name: preview, vlan: red-preview, address: 172.20.4.10/24, port: tower/12}]
  - name: guest
    interfaces: [{name: visitors, vlan: red-visitors, port: tower/21}]
    receivers: [{name: cam-31, takes: cam-31/video}]
  - name: spare
    interfaces: [{name: red, vlan: red-video}]
    receivers: [{name: cam-31, takes: cam-31/video}]
  - name: jib
    interfaces: [{name: red, vlan: red-video, port: tower/2}]
    receivers:
      - {name: wrong-group, takes: cam-31/video, legs: [{interface: red, group: 239.192.31.12}]}
      - {name: wrong-source, takes: cam-31/video, legs: [{interface: red, source: 172.20.1.13}]}
`;
