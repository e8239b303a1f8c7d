/** Picture: one frame or a blended series, looked at on neutral grey, and delivered. */
import type { PageProps } from '../app/page-props.ts';
import { Blending } from './blending.tsx';
import { PictureList } from './picture-list.tsx';
import { OneFrame, OnePicture } from './one-picture.tsx';

export function PicturePage({ store, query }: PageProps) {
  const blending = query.get('blending');
  const frame = query.get('frame');
  const picture = query.get('picture');
  if (blending !== null) return <Blending store={store} jobId={blending} from={query.get('from')} />;
  if (picture !== null) return <OnePicture key={picture} store={store} id={picture} />;
  if (frame !== null) return <OneFrame key={frame} store={store} id={frame} />;
  return <PictureList store={store} />;
}
