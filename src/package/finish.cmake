# What Debian's policy asks of a package's files (12.1, 12.7): manual pages and changelog packed, without time or name so that two builds are alike.
file(GLOB_RECURSE pages "${CPACK_TEMPORARY_INSTALL_DIRECTORY}/usr/share/man/*" "${CPACK_TEMPORARY_INSTALL_DIRECTORY}/usr/share/doc/layright/changelog")
foreach(page ${pages})
  if(NOT page MATCHES "\\.gz$")
    execute_process(COMMAND gzip -9nf ${page} COMMAND_ERROR_IS_FATAL ANY)
  endif()
endforeach()
