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
  readonly #byThing = new Map<object, number>();
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
    return this.#byThing.get(one) ?? this.#add(one, 'switch', one.name);
  }

  link(link: Link): number {
    return this.#byThing.get(link) ?? this.#add(link, 'link', linkLabel(link));
  }

  device(device: Device): number {
    return this.#byThing.get(device) ?? this.#add(device, 'device', device.name);
  }

  interface(one: Interface): number {
    return this.#byThing.get(one) ?? this.#add(one, 'interface', `${one.device.name} ${one.name}`);
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

  #add(thing: Switch | Link | Device | Interface, kind: ElementKind, name: string): number {
    const number = this.#all.push({ kind, name, thing }) - 1;
    this.#byThing.set(thing, number);
    return number;
  }
}
