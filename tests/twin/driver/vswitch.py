"""Open vSwitch, userspace datapath: one bridge a switch, one veth pair a link, with real 802.1Q tags.

One database and one switch daemon serve all benches of a run; their files are in a folder of the lab. They end with the
thread that started them, which is the main one.
"""
import os
import subprocess
import threading
import time

from packets import tap
from space import BUILDERS, enter, ip, new_namespace, path_of, run

READY_S = 20
# The daemon sets up bridges one by one for whoever asks.
ONE_BY_ONE = threading.Lock()
MORTAL = ['setpriv', '--pdeathsig', 'KILL']
SCHEMA = '/usr/share/openvswitch/vswitch.ovsschema'


class Daemons:
    def __init__(self, folder):
        self.folder = folder
        self.namespace = new_namespace()
        os.environ.update({name: folder for name in ('OVS_RUNDIR', 'OVS_LOGDIR', 'OVS_DBDIR', 'OVS_SYSCONFDIR')})
        run(['ovsdb-tool', 'create', f'{folder}/conf.db', SCHEMA])
        self.start(['ovsdb-server', f'{folder}/conf.db', f'--remote=punix:{folder}/db.sock', f'--unixctl={folder}/db.ctl'])
        self.wait_for('db.sock')
        self.change(['--', 'set', 'Open_vSwitch', '.', 'other_config:n-handler-threads=1', 'other_config:n-revalidator-threads=1'],
                    wait=False)
        self.start(['ovs-vswitchd', f'unix:{folder}/db.sock', '--disable-system', f'--unixctl={folder}/vs.ctl',
                    f'--log-file={folder}/vs.log'])
        self.wait_for('vs.ctl')

    def start(self, words):
        subprocess.Popen([*MORTAL, *words], stdin=subprocess.DEVNULL, stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL)

    def wait_for(self, name):
        until = time.monotonic() + READY_S
        while not os.path.exists(f'{self.folder}/{name}'):
            if time.monotonic() > until:
                raise RuntimeError(f'Open vSwitch: no {name}')
            time.sleep(0.02)

    def change(self, words, wait=True):
        with ONE_BY_ONE:
            run(['ovs-vsctl', f'--db=unix:{self.folder}/db.sock', '--timeout=50', *([] if wait else ['--no-wait']), *words])

    def ask(self, *words):
        return run(['ovs-appctl', '-T', '50', '-t', f'{self.folder}/vs.ctl', *words])


class OpenVSwitch:
    def __init__(self, spec, hosts, daemons, number):
        self.spec = spec
        self.hosts = hosts
        self.daemons = daemons
        self.number = number
        self.link_taps = []

    def bridge(self, switch):
        names = [one['name'] for one in self.spec['switches']]
        return f'b{self.number}s{names.index(switch)}'

    def port(self, name):
        return f'b{self.number}{name}'

    def build(self):
        with BUILDERS:
            self.make()

    def make(self):
        enter(self.daemons.namespace)
        pairs = []
        for host in self.spec['hosts']:
            pairs.append(f"link add {self.port(host['port'])} type veth peer name eth0 netns "
                         f"{path_of(self.hosts[host['name']].namespace)}")
            pairs.append(f"link set {self.port(host['port'])} up")
        for link in self.spec['links']:
            near, far = (self.port(end['port']) for end in link['ends'])
            pairs.append(f'link add {near} type veth peer name {far}')
        ip(pairs)
        words = []
        for switch in self.spec['switches']:
            name = self.bridge(switch['name'])
            words += ['--', 'add-br', name, '--', 'set', 'bridge', name, 'datapath_type=netdev', *switch['settings']]
        for port in [*self.spec['hosts'], *(end for link in self.spec['links'] for end in link['ends'])]:
            name = self.port(port['port'])
            words += ['--', 'add-port', self.bridge(port['switch']), name, '--', 'set', 'port', name, *port['settings']]
        self.daemons.change(words)
        for host in self.hosts.values():
            host.open()
        # Links last, when every bridge knows whether it runs a spanning tree.
        enter(self.daemons.namespace)
        ip([f"link set {self.port(end['port'])} up" for link in self.spec['links'] for end in link['ends']])
        for link in self.spec['links']:
            for end in link['ends']:
                self.link_taps.append((end['arrives'], tap(self.port(end['port']))))

    def down(self, _, port):
        enter(self.daemons.namespace)
        ip([f'link set {self.port(port)} down'])

    def set_bridge(self, step):
        self.daemons.change(['--', 'set', 'bridge', self.bridge(step['switch']), *step['options'].split()])

    def forget(self):
        """What would age in minutes (router ports in 180 s) is forgotten at once, on every switch."""
        for switch in self.spec['switches']:
            if 'mcast_snooping_enable=true' in switch['settings']:
                self.daemons.ask('mdb/flush', self.bridge(switch['name']))
