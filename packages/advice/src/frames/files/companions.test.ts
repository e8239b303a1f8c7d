import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { fileKindOf, picturesOf } from './companions.ts';
import { compareFileNames } from './file-name-order.ts';

describe('files of one picture', () => {
  it('measures the JPEG of a pair, and keeps raw and sidecars with it by both habits', () => {
    expect(picturesOf(['d/IMG_1.CR3', 'd/IMG_1.JPG', 'd/IMG_1.CR3.xmp', 'd/IMG_1.xmp'])).toEqual({
      pictures: [
        {
          measured: 'd/IMG_1.JPG',
          kind: 'jpeg',
          companions: ['d/IMG_1.CR3', 'd/IMG_1.CR3.xmp', 'd/IMG_1.xmp'],
        },
      ],
      strays: [],
    });
  });

  it('does not pair across folders, nor without a raw', () => {
    const { pictures } = picturesOf(['a/1.jpg', 'b/1.cr2', 'c/1.jpg', 'c/1.png', 'c/1.tif']);
    expect(pictures.map(({ measured }) => measured)).toEqual([
      'a/1.jpg',
      'b/1.cr2',
      'c/1.jpg',
      'c/1.png',
      'c/1.tif',
    ]);
    expect(pictures.every(({ companions }) => companions.length === 0)).toBe(true);
  });

  it('pairs whatever the case of the names', () => {
    expect(picturesOf(['DSC1.NEF', 'dsc1.jpg']).pictures).toHaveLength(1);
  });

  it('lists sidecars without a picture, and leaves other files alone', () => {
    expect(picturesOf(['lost.xmp', 'notes.txt', 'film.mp4'])).toEqual({ pictures: [], strays: ['lost.xmp'] });
  });

  it('knows the kinds of file by their endings', () => {
    expect(['a.ARW', 'a.jpeg', 'a.HIF', 'a.tif', 'a.png', 'a.xmp', 'a.txt', 'a'].map(fileKindOf)).toEqual([
      'raw',
      'jpeg',
      'heif',
      'tiff',
      'png',
      'sidecar',
      null,
      null,
    ]);
  });

  it('uses every photograph exactly once, whatever the order of the list', () => {
    const path = fc.constantFrom(
      ...['a', 'b', 'sub/a'].flatMap((base) =>
        ['.CR2', '.JPG', '.jpg', '.dng', '.tif', '.xmp'].map((e) => base + e),
      ),
    );
    fc.assert(
      fc.property(fc.uniqueArray(path), (paths) => {
        const found = picturesOf(paths);
        const used = found.pictures.flatMap(({ measured, companions }) => [measured, ...companions]);
        const photographs = (list: readonly string[]) => list.filter((p) => !p.endsWith('.xmp')).sort();
        expect(photographs(used)).toEqual(photographs(paths));
        expect(picturesOf([...paths].reverse())).toEqual(found);
      }),
      { seed: 20_269 },
    );
  });
});

describe('the order of file names', () => {
  it('takes digits by their number', () => {
    const names = ['IMG_100.JPG', 'IMG_9.JPG', 'img_10.jpg', 'IMG_0009.JPG'];
    expect(names.sort(compareFileNames)).toEqual(['IMG_0009.JPG', 'IMG_9.JPG', 'img_10.jpg', 'IMG_100.JPG']);
  });

  it('is total and antisymmetric', () => {
    fc.assert(
      fc.property(fc.string(), fc.string(), (a, b) => {
        expect(Math.sign(compareFileNames(a, b))).toBe(-Math.sign(compareFileNames(b, a)) || 0);
        expect(compareFileNames(a, b) === 0).toBe(a === b);
      }),
      { seed: 20_270 },
    );
  });
});
