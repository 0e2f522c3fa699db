return Tussock.App.Commands.Tree.Run(args, Console.Out, Console.Error);
