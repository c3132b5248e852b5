/** Things that can fail, each told once. */
import type { Device, Interface, Link, Switch } from '../../plan/types.js';
import { linkLabel } from '../vlans/index.js';
import type { ForwardingSegment } from './ground.js';
import { kept } from '../../collections/kept.js';
import type { FailingKeys } from './routed-losses.js';

export type ElementKind = 'switch' | 'link' | 'device' | 'interface' | 'risk' | 'power feed';

/** One thing that can fail. */
export interface Element {
  readonly kind: ElementKind;
  readonly name: string;
  readonly thing: Switch | Link | Device | Interface | undefined;
}

/** Elements by numbers from 0 on, so that lists can be kept by them: a big plan has hundreds of thousands. */
export class Elements implements FailingKeys<number> {
  readonly #all: Element[] = [];
  /** Apart from hosts, which are many. */
  readonly #ofNetwork = new Map<Switch | Link, number>();
  readonly #devices = new Map<Device, number>();
  readonly #interfaces = new Map<Interface, number>();
  readonly #byName = new Map<string, number>();

  /** By number. */
  get all(): readonly Element[] {
    return this.#all;
  }

  at(number: number): Element {
    const element = this.#all[number];
    if (element === undefined) throw new Error('a failure was asked for an element it does not know');
    return element;
  }

  switch(forwarding: ForwardingSegment, node: number): number {
    const one = forwarding.segment.nodes[node];
    if (one === undefined) throw new Error('a segment was asked for a node it does not have');
    return this.box(one);
  }

  box(one: Switch): number {
    return this.#ofNetwork.get(one) ?? this.#add(this.#ofNetwork, one, 'switch', one.name);
  }

  link(link: Link): number {
    return this.#ofNetwork.get(link) ?? this.#add(this.#ofNetwork, link, 'link', linkLabel(link));
  }

  device(device: Device): number {
    return this.#devices.get(device) ?? this.#add(this.#devices, device, 'device', device.name);
  }

  interface(one: Interface): number {
    return this.#interfaces.get(one) ?? this.#add(this.#interfaces, one, 'interface', `${one.device.name} ${one.name}`);
  }

  thingOf(number: number): Switch | Link | Device | undefined {
    const { thing } = this.at(number);
    return thing === undefined || 'device' in thing ? undefined : thing;
  }

  /** What a spanning tree may turn for. */
  bridging(number: number): Switch | Link | undefined {
    const { thing } = this.at(number);
    return thing === undefined || 'device' in thing || 'interfaces' in thing ? undefined : thing;
  }

  named(kind: 'risk' | 'power feed', name: string): number {
    const key = `${kind} ${name}`;
    return kept(this.#byName, key, () => this.#all.push({ kind, name, thing: undefined }) - 1);
  }

  #add<Thing extends Switch | Link | Device | Interface>(
    numbers: Map<Thing, number>,
    thing: Thing,
    kind: ElementKind,
    name: string,
  ): number {
    const number = this.#all.push({ kind, name, thing }) - 1;
    numbers.set(thing, number);
    return number;
  }
}
