/**
 * Lint rules of our own, for what the linter's own rules cannot say. Loaded by `.oxlintrc.json`.
 */

/** @typedef {{ report(finding: { node: object, message: string }): void }} RuleContext */

const noDynamicImport = {
  /** @param {RuleContext} context */
  create: (context) => ({
    /** @param {object} node */
    ImportExpression(node) {
      context.report({ node, message: 'import() is not for the core: what it needs is known at load.' });
    },
  }),
};

const noPresentTime = {
  /** @param {RuleContext} context */
  create: (context) => ({
    /** @param {{ callee: { type: string, name?: string }, arguments: readonly object[] }} node */
    NewExpression(node) {
      if (node.callee.name === 'Date' && node.arguments.length === 0) {
        context.report({
          node,
          message: 'new Date() without arguments reads the clock: take time as an argument.',
        });
      }
    },
  }),
};

export default {
  meta: { name: 'house' },
  rules: { 'no-dynamic-import': noDynamicImport, 'no-present-time': noPresentTime },
};
