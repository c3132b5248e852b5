/**
 * The multicast address space: which block a group lies in, what is assigned there, how it maps to Ethernet.
 *
 * Pure functions over constant tables. IPv4 follows RFC 5771 and, where it is later, the IANA IPv4 Multicast Address
 * Space Registry (updated 2024-02-02); IPv6 follows RFC 4291 §2.7 with RFC 7346, RFC 3306, RFC 3956 and RFC 7371.
 */
export * from './assigned4.js';
export * from './assigned6.js';
export * from './blocks4.js';
export * from './derived4.js';
export * from './documentation.js';
export * from './ethernet.js';
export * from './groups6.js';
export * from './problems6.js';
export * from './scopes4.js';
export * from './source-specific.js';
