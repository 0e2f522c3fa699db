namespace Tussock.Tests;
