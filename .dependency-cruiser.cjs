// The arrows of the house. Each package may import only what stands below it.
const below = {
  science: [],
  formats: ['science'],
  imaging: ['science'],
  notebook: ['science', 'formats'],
  advice: ['science', 'formats', 'notebook', 'imaging'],
  desk: ['science', 'formats', 'notebook', 'advice', 'imaging'],
  web: ['science', 'formats', 'notebook', 'advice', 'imaging'],
};

const arrows = Object.entries(below).map(([name, allowed]) => ({
  name: `${name}-imports-only-below`,
  severity: 'error',
  comment: `packages/${name} may import ${allowed.length > 0 ? allowed.join(', ') : 'nothing of ours'}`,
  from: { path: `^packages/${name}/` },
  to: { path: '^packages/', pathNot: [`^packages/(${[name, ...allowed].join('|')})/`, 'node_modules'] },
}));

module.exports = {
  forbidden: [
    { name: 'no-circle', severity: 'error', from: {}, to: { circular: true } },
    {
      name: 'advice-takes-types-of-imaging',
      severity: 'error',
      comment: "advice takes only the measures' types of imaging",
      from: { path: '^packages/advice/', pathNot: '\\.test\\.ts$' },
      to: { path: '^packages/imaging/', dependencyTypesNot: ['type-only'] },
    },
    {
      name: 'through-the-door',
      severity: 'error',
      comment: 'another package is entered through its index.ts',
      from: { path: '^packages/([^/]+)/' },
      to: { path: '^packages/[^/]+/src/(?!index\\.ts$)', pathNot: '^packages/$1/' },
    },
    {
      name: 'pure-rooms-have-no-node',
      severity: 'error',
      from: {
        path: '^packages/(science|formats|notebook|advice|imaging|web)/src/',
        pathNot: '\\.test\\.tsx?$|/fixtures/',
      },
      to: { dependencyTypes: ['core'] },
    },
    {
      name: 'resolvable',
      severity: 'error',
      from: { path: '^packages/' },
      to: { couldNotResolve: true, pathNot: '\\.wasm$' },
    },
    ...arrows,
  ],
  options: {
    doNotFollow: { path: 'node_modules' },
    exclude: { path: '(^|/)(dist|build|node_modules)/' },
    tsPreCompilationDeps: true,
    tsConfig: { fileName: 'tsconfig.json' },
    enhancedResolveOptions: { exportsFields: ['exports'], conditionNames: ['import', 'types', 'default'] },
  },
};
