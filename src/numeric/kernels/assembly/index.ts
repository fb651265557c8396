export { bufferBytes, factor, invertFactor, layOut, product, solveRight, solveRightPlain } from './dense';
