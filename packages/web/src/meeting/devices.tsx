/** The notebook on more than one device: at the desk the door, on the phone how it stands, on both the file. */
import type { StoreName } from '@tepal/formats';
import { atDesk } from '../field/peer.ts';
import { ByFile } from './by-file.tsx';
import { DeskSide } from './desk-side.tsx';
import { KeptHere } from './phone-side.tsx';

export function Devices({ store }: { store: StoreName }) {
  if (store === 'invented') return null;
  return (
    <section class="devices" aria-labelledby="devices">
      <h2 id="devices">{atDesk ? 'On your phone as well' : 'On this phone'}</h2>
      {atDesk ? <DeskSide /> : <KeptHere />}
      <ByFile from={atDesk ? 'the desk' : 'the phone'} />
    </section>
  );
}
