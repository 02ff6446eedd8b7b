package org.seriatim.exchange.domain;

import java.io.IOException;
import java.nio.file.FileAlreadyExistsException;
import java.nio.file.Path;
import java.util.concurrent.Callable;

import picocli.CommandLine.Command;
import picocli.CommandLine.Parameters;

import org.seriatim.exchange.BundleExport;

import org.springframework.context.annotation.Lazy;
import org.springframework.stereotype.Component;

@Component
@Lazy
@Command(name = "export", mixinStandardHelpOptions = true,
		description = "Writes all records as an exchange bundle that only you can read.")
class ExportCommand implements Callable<Integer> {

	@Parameters(paramLabel = "FILE_OR_FOLDER",
			description = "Where to; a ZIP file if the name ends in .zip, else a folder. Nothing is overwritten.")
	Path target = Path.of("");

	private final BundleExport bundleExport;

	ExportCommand(BundleExport bundleExport) {
		this.bundleExport = bundleExport;
	}

	@Override
	public Integer call() throws IOException {
		try {
			this.bundleExport.to(this.target);
			return 0;
		}
		catch (FileAlreadyExistsException ex) {
			System.err.println("Nothing was exported: there is something at " + this.target + " already.");
			return 1;
		}
	}

}
