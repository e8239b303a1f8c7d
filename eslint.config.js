import tseslint from 'typescript-eslint';

/** What a pure room may not reach for, and what to do instead. */
const impure = [
  ['Date', 'Pure code has no clock: take `timeMs` (Unix milliseconds) as an argument.'],
  ['fetch', 'Pure code has no network: take a `fetch` as an argument.'],
  ['document', 'Pure code has no page: return values and let packages/web draw them.'],
  ['window', 'Pure code has no page: take what you need as an argument.'],
  ['localStorage', 'Pure code keeps nothing: return the value and let the caller store it.'],
  ['performance', 'Pure code has no clock: take the time as an argument.'],
  ['setTimeout', 'Pure code does not wait: let the caller schedule.'],
  ['process', 'Pure code knows no process: take the setting as an argument.'],
  ['console', 'Pure code does not print: return what there is to say.'],
].map(([name, message]) => ({ name, message }));

export default tseslint.config(
  {
    ignores: [
      '**/dist/**',
      '**/build/**',
      '**/node_modules/**',
      '**/kernel/**',
      '**/fixtures/**',
      '.cache/**',
    ],
  },
  {
    files: ['packages/**/*.ts', 'packages/**/*.tsx', 'demo/**/*.ts', 'bench/**/*.ts', 'journey/**/*.ts'],
    extends: [...tseslint.configs.strict],
    rules: {
      '@typescript-eslint/no-explicit-any': 'error',
      '@typescript-eslint/no-non-null-assertion': 'off',
      '@typescript-eslint/consistent-type-imports': 'error',
      '@typescript-eslint/no-unused-vars': ['error', { argsIgnorePattern: '^_' }],
      'no-restricted-imports': [
        'error',
        {
          patterns: [
            {
              group: ['@tepal/*/*'],
              message: "Import a package through its index only: from '@tepal/name'.",
            },
          ],
        },
      ],
      eqeqeq: 'error',
      'prefer-const': 'error',
    },
  },
  {
    files: ['packages/{science,formats,notebook,advice,imaging}/src/**/*.ts'],
    ignores: ['**/*.test.ts'],
    rules: {
      'no-restricted-globals': ['error', ...impure],
      'no-restricted-properties': [
        'error',
        {
          object: 'Math',
          property: 'random',
          message: 'Pure code has no dice: take a seeded generator as an argument.',
        },
        { object: 'Date', property: 'now', message: 'Pure code has no clock: take `timeMs` as an argument.' },
      ],
    },
  },
);
