import { it } from 'vitest';
import { CAMERA, makeDng } from '../../fixtures/make-dng.ts';
import { withDecoder } from './raw-decoder.ts';
it('x', async () => {
  const side=32; const samples=[11000,25500,20600];
  const mosaic = Uint16Array.from({ length: side * side }, (_, i) => samples[(Math.floor(i / side) % 2) + (i % 2)]!);
  const dng = makeDng({ width: side, height: side, mosaic, blackLevel: 1000, whiteLevel: 50_000, colourMatrix: CAMERA, asShotNeutral: [.5,1,.8] });
  for (const s of [ {userMul:[2,1,1.25,1]}, {useCameraWb:true}, {userMul:[2,1,1.25,1], highlight:0}, {userMul:[2,1,1.25,1], adjustMaximumThr:0.0},{userMul:[1,1,1,1]}])
  await withDecoder(dng, { outputBps: 16, outputColor: 0, gamm: [1, 1], noAutoBright: true, highlight: 1, userFlip: 0, userQual: 3, adjustMaximumThr:0,...s }, 'p', (d) => {
    const m1:any = d.metadata(true);
    const p = d.imageData(); const m:any = d.metadata(true);
    const at=3*(16*p.width+16);
    console.log(JSON.stringify(s), p.width,p.height, [p.data[at],p.data[at+1],p.data[at+2]], m1.color_data.cam_mul, m.color_data.pre_mul, m.color_data.maximum, m.color_data.black, m.color_data.data_maximum);
  });
});
